// Draws the large charts again with values to point at. The charts drawn by the server stay for readers without scripts, for
// print and for assistive technology; the table under each has every number. What a chart holds comes in its data-chart.
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

  // Ours: the range of each season as a band between its ends, broken where a season has none; a lone season is a bar.
  const band = chart => ({
    id: 'band',
    beforeDatasetsDraw({ ctx, chartArea, scales }) {
      const ends = bySeason(chart, point => point.lower === null || point.upper === null ? null : [point.lower, Math.min(point.upper, chart.top)]);
      const x = place => scales.x.getPixelForValue(place), y = value => scales.y.getPixelForValue(value);
      ctx.save();
      ctx.beginPath();
      ctx.rect(chartArea.left, chartArea.top, chartArea.width, chartArea.height);
      ctx.clip();
      ctx.fillStyle = ink('--band');
      ctx.strokeStyle = ink('--amount-4');
      ctx.lineWidth = 0.75;
      for (let from = 0; from < ends.length; from++) {
        if (ends[from] === null) continue;
        let to = from;
        while (to + 1 < ends.length && ends[to + 1] !== null) to++;
        if (from === to) {
          ctx.fillStyle = ink('--amount-4');
          ctx.fillRect(x(from) - 2.5, y(ends[from][1]), 5, y(ends[from][0]) - y(ends[from][1]));
          ctx.fillStyle = ink('--band');
        } else {
          ctx.beginPath();
          for (let place = from; place <= to; place++) ctx.lineTo(x(place), y(ends[place][1]));
          for (let place = to; place >= from; place--) ctx.lineTo(x(place), y(ends[place][0]));
          ctx.closePath();
          ctx.globalAlpha = 0.75;
          ctx.fill();
          ctx.globalAlpha = 1;
          ctx.stroke();
        }
        from = to;
      }
      ctx.restore();
    },
  });

  // Ours: the last value at the line's end, as in the chart drawn by the server.
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

  const datasets = chart => {
    const still = { pointRadius: 0, pointHitRadius: 0, spanGaps: false };
    const line = { label: 'line', order: 0, data: bySeason(chart, point => point.index), borderColor: ink('--water'), backgroundColor: ink('--water'), borderWidth: 2.25, pointRadius: 2, pointHoverRadius: 6, spanGaps: false };
    const dots = { label: 'dots', order: 2, data: bySeason(chart, point => point.dot), showLine: false, pointRadius: 2.6, pointHitRadius: 0, pointBackgroundColor: ink('--paper'), pointBorderColor: ink('--ink-soft') };
    const smooth = { ...still, label: 'smooth', order: 1, data: bySeason(chart, point => point.smooth), borderColor: ink('--ink-soft'), borderWidth: 1.5, borderDash: [2, 3], tension: 0.3 };
    const baseline = { ...still, label: 'baseline', order: 3, data: chart.seasons.map(() => chart.baseline), borderColor: ink('--ink-soft'), borderWidth: 1, borderDash: [5, 4] };
    return chart.baseline === null ? [line, dots, smooth] : [line, dots, smooth, baseline];
  };

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
        filter: item => item.dataset.label === 'line',
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
    return new Chart(canvas, { type: 'line', data: { labels: chart.seasons, datasets: datasets(chart) }, options: options(chart), plugins: [band(chart), endLabel(chart)] });
  };

  if (typeof Chart === 'undefined') return;
  const figures = [...document.querySelectorAll('figure[data-chart]')];
  let drawn = figures.map(draw);
  dark.addEventListener('change', () => {
    drawn.forEach(chart => { const { canvas } = chart; chart.destroy(); canvas.remove(); });
    drawn = figures.map(draw);
  });
})();
