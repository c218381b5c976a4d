// Lets a map be looked at closer: buttons, dragging, pinching, and the keyboard. The map's links and the list beside it work
// without any of this.
(() => {
  'use strict';

  if (typeof Panzoom === 'undefined') return;

  const Closest = 8, Step = 0.5, Nudge = 60, DragFrom = 5;
  const calm = matchMedia('(prefers-reduced-motion: reduce)');

  const enhance = frame => {
    const map = frame.querySelector('svg.map');
    const tools = frame.querySelector('.map-tools');
    const view = map.parentElement;
    let zoomed = false, pressed = null, dragged = false;

    const panzoom = Panzoom(map, {
      contain: 'outside',
      minScale: 1,
      maxScale: Closest,
      step: Step,
      cursor: 'auto',
      touchAction: 'auto',
      panOnlyWhenZoomed: true,
      // As it stands the map lets the page scroll and its links be pressed.
      handleStartEvent: event => { if (zoomed) event.preventDefault(); },
    });
    const motion = () => ({ animate: !calm.matches });

    const actions = {
      closer: () => panzoom.zoomIn(motion()),
      farther: () => panzoom.zoomOut(motion()),
      whole: () => panzoom.reset(motion()),
      left: () => panzoom.pan(Nudge, 0, { relative: true, ...motion() }),
      right: () => panzoom.pan(-Nudge, 0, { relative: true, ...motion() }),
      up: () => panzoom.pan(0, Nudge, { relative: true, ...motion() }),
      down: () => panzoom.pan(0, -Nudge, { relative: true, ...motion() }),
    };
    tools.querySelectorAll('button').forEach(button =>
      button.addEventListener('click', () => { if (button.getAttribute('aria-disabled') !== 'true') actions[button.dataset.map](); }));

    const show = scale => {
      zoomed = scale > 1.001;
      panzoom.setOptions({ cursor: zoomed ? 'move' : 'auto', touchAction: zoomed ? 'none' : 'auto' });
      tools.querySelectorAll('button').forEach(button => {
        const useless = button.dataset.map === 'closer' ? scale >= Closest - 0.001 : !zoomed;
        button.setAttribute('aria-disabled', String(useless));
        // Moving is for a map that is larger than its frame.
        if (['left', 'right', 'up', 'down'].includes(button.dataset.map)) button.hidden = !zoomed;
      });
    };
    map.addEventListener('panzoomchange', event => show(event.detail.scale));
    show(1);

    // The end of a drag is no press of a link.
    view.addEventListener('pointerdown', event => { pressed = { x: event.clientX, y: event.clientY }; dragged = false; }, true);
    view.addEventListener('pointermove', event => {
      if (pressed && zoomed && Math.hypot(event.clientX - pressed.x, event.clientY - pressed.y) > DragFrom) dragged = true;
    }, true);
    view.addEventListener('pointerup', () => { pressed = null; }, true);
    // Nor is a link itself carried away.
    view.addEventListener('dragstart', event => event.preventDefault());
    view.addEventListener('click', event => { if (dragged) { event.preventDefault(); dragged = false; } }, true);

    // A link that the keyboard comes to is brought into view. Heard by the frame: a picture that listens for focus takes it.
    view.addEventListener('focusin', event => {
      if (!zoomed) return;
      view.scrollTo(0, 0);
      const link = event.target.getBoundingClientRect(), window = view.getBoundingClientRect(), scale = panzoom.getScale();
      const x = window.left + window.width / 2 - (link.left + link.width / 2);
      const y = window.top + window.height / 2 - (link.top + link.height / 2);
      panzoom.pan(x / scale, y / scale, { relative: true, animate: false });
    });

    tools.hidden = false;
  };

  document.querySelectorAll('.map-frame').forEach(enhance);
})();
