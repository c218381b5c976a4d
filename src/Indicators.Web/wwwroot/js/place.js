// Finds the watershed around the reader. The position is set beside the shapes here, in the browser, and never sent: all that
// is asked for next is the page of the watershed it lies in.
(() => {
  'use strict';

  const tool = document.querySelector('[data-shapes]');
  if (tool === null || !('geolocation' in navigator)) return;
  const button = tool.querySelector('button');
  const status = tool.querySelector('[role=status]');
  const say = what => { status.textContent = tool.dataset[what]; };

  // Even-odd rule over all rings, so holes and islands count as they should.
  const inside = (rings, x, y) => {
    let odd = false;
    rings.forEach(ring => {
      for (let here = 0, before = ring.length - 1; here < ring.length; before = here++) {
        const [x1, y1] = ring[here], [x2, y2] = ring[before];
        if ((y1 > y) !== (y2 > y) && x < x1 + (x2 - x1) * (y - y1) / (y2 - y1)) odd = !odd;
      }
    });
    return odd;
  };

  const open = async position => {
    const { longitude, latitude } = position.coords;
    const answer = await fetch(tool.dataset.shapes);
    if (!answer.ok) { say('failed'); return; }
    const shapes = await answer.json();
    const found = shapes.find(shape => inside(shape.rings, longitude, latitude));
    if (found === undefined) { say('outside'); return; }
    location.assign(found.href);
  };

  button.addEventListener('click', () => {
    say('looking');
    navigator.geolocation.getCurrentPosition(
      position => { open(position).catch(() => say('failed')); },
      () => say('refused'),
      { enableHighAccuracy: false, timeout: 20000, maximumAge: 600000 });
  });
  tool.hidden = false;
})();
