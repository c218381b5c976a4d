// Draws the large chart again with values to point at. The chart drawn by the server stays for readers without scripts
// and for assistive technology; the table under it has every number.
(() => {
  'use strict';

  const ink = name => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  const dark = matchMedia('(prefers-color-scheme: dark)');

  const bySeason = (chart, read) => {
    const found = new Map(chart.points.map(point => [point.season, point]));
    return chart.seasons.map(season => {
      const point = found.get(season);
      return point === undefined ? null : read(point);
    });
  };

  const datasets = chart => {
    const banded = point => point.lower !== null && point.upper !== null;
    const none = { pointRadius: 0, pointHitRadius: 0, borderWidth: 0, spanGaps: false };
    return [
      { ...none, order: 3, data: bySeason(chart, point => banded(point) ? point.lower : null) },
      { ...none, order: 3, data: bySeason(chart, point => banded(point) ? Math.min(point.upper, chart.top) : null), fill: '-1', backgroundColor: ink('--band') },
      { ...none, order: 2, data: chart.seasons.map(() => 100), borderColor: ink('--ink-soft'), borderWidth: 1, borderDash: [5, 4] },
      { order: 1, data: bySeason(chart, point => point.dot), showLine: false, pointRadius: 2.6, pointHitRadius: 0, pointBackgroundColor: ink('--paper'), pointBorderColor: ink('--ink-soft') },
      { order: 0, data: bySeason(chart, point => point.index), borderColor: ink('--water'), backgroundColor: ink('--water'), borderWidth: 2.25, pointRadius: 2, pointHoverRadius: 6, spanGaps: false },
    ];
  };

  // The last value at the line's end, as in the chart drawn by the server.
  const endLabel = chart => ({
    id: 'endLabel',
    afterDatasetsDraw({ ctx, scales }) {
      const last = chart.points.findLast(point => point.index !== null);
      if (last === undefined) return;
      ctx.save();
      ctx.fillStyle = ink('--ink');
      ctx.font = `600 13px ${ink('--plain')}`;
      ctx.textBaseline = 'middle';
      ctx.fillText(chart.end, scales.x.getPixelForValue(chart.seasons.indexOf(last.season)) + 8, scales.y.getPixelForValue(last.index));
      ctx.restore();
    },
  });

  const options = chart => ({
    animation: false,
    locale: document.documentElement.lang,
    responsive: true,
    maintainAspectRatio: false,
    events: ['mousemove', 'mouseout', 'touchstart', 'touchmove'],
    layout: { padding: { right: 44 } },
    interaction: { mode: 'index', intersect: false },
    scales: {
      x: { grid: { display: false }, ticks: { color: ink('--ink-soft'), maxRotation: 0, autoSkipPadding: 16 } },
      y: { min: 0, max: chart.top, grid: { color: ink('--rule') }, border: { display: false }, ticks: { color: ink('--ink-soft'), stepSize: chart.step } },
    },
    plugins: {
      legend: { display: false },
      tooltip: {
        displayColors: false,
        filter: item => item.datasetIndex === 4,
        callbacks: {
          title: () => '',
          label: item => chart.points.find(point => point.season === chart.seasons[item.dataIndex])?.tip ?? '',
        },
      },
    },
  });

  const draw = figure => {
    const chart = JSON.parse(figure.dataset.chart);
    const canvas = document.createElement('canvas');
    canvas.setAttribute('role', 'img');
    canvas.setAttribute('aria-label', figure.dataset.label);
    figure.append(canvas);
    figure.classList.add('drawn');
    return new Chart(canvas, { type: 'line', data: { labels: chart.seasons, datasets: datasets(chart) }, options: options(chart), plugins: [endLabel(chart)] });
  };

  if (typeof Chart === 'undefined') return;
  const figures = [...document.querySelectorAll('figure[data-chart]')];
  let drawn = figures.map(draw);
  dark.addEventListener('change', () => {
    drawn.forEach(chart => { const { canvas } = chart; chart.destroy(); canvas.remove(); });
    drawn = figures.map(draw);
  });
})();
