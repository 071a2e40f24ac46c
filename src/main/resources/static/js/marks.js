// [data-marking] beside [data-mark-form]: pressing on the picture fills in the places; what will be drawn is shown dashed.
(() => {
  const ready = () => {
    const place = document.querySelector('[data-marking]:not([data-ready])');
    const form = document.querySelector('[data-mark-form]');
    const picture = place?.querySelector('img');
    if (!picture || !form) return;
    place.dataset.ready = '';
    picture.draggable = false;
    form.querySelector('[data-mark-hint]').textContent =
      'Press on the picture; hold and drag for the size of a circle or the length of an arrow. Or type places in percent.';

    const field = name => form.elements[name];
    const kind = () => form.querySelector('input[name=kind]:checked')?.value;
    const svg = document.createElementNS('http://www.w3.org/2000/svg', 'svg');
    svg.classList.add('marks');
    svg.setAttribute('aria-hidden', 'true');
    picture.parentElement.append(svg);

    const number = name => {
      const typed = parseFloat(field(name).value.replace(',', '.'));
      return Number.isFinite(typed) ? typed / 100 : null;
    };
    const preview = () => {
      const {width, height} = picture.getBoundingClientRect();
      svg.setAttribute('viewBox', `0 0 ${width} ${height}`);
      svg.replaceChildren();
      const x = number('x'), y = number('y');
      if (x === null || y === null) return;
      const from = {x: x * width, y: y * height};
      const toX = number('toX'), toY = number('toY');
      const to = {x: (toX ?? x + (x < .5 ? .12 : -.12)) * width,
        y: (toY ?? (kind() === 'ARROW' ? y + (y < .5 ? .12 : -.12) : y)) * height};
      const reach = Math.hypot(to.x - from.x, to.y - from.y);
      const d = kind() === 'CIRCLE'
        ? `M${from.x - reach} ${from.y}a${reach} ${reach} 0 1 0 ${2 * reach} 0a${reach} ${reach} 0 1 0 ${-2 * reach} 0`
        : kind() === 'ARROW' ? `M${to.x} ${to.y}L${from.x} ${from.y}` : '';
      const dot = `M${from.x - 5} ${from.y}h10M${from.x} ${from.y - 5}v10`;
      for (const look of ['under', 'line now']) {
        const path = document.createElementNS(svg.namespaceURI, 'path');
        path.setAttribute('class', look);
        path.setAttribute('d', d + dot);
        svg.append(path);
      }
    };

    const at = event => {
      const box = picture.getBoundingClientRect();
      const percent = (value, from, length) =>
        Math.min(100, Math.max(0, (value - from) / length * 100)).toFixed(1);
      return {x: percent(event.clientX, box.left, box.width), y: percent(event.clientY, box.top, box.height)};
    };
    const put = values => {
      for (const [name, value] of Object.entries(values)) {
        field(name).value = value;
        field(name).dispatchEvent(new Event('input', {bubbles: true}));
      }
    };

    let held = null;
    place.addEventListener('pointerdown', event => {
      if (event.button !== 0) return;
      event.preventDefault();
      held = {x: event.clientX, y: event.clientY};
      place.setPointerCapture(event.pointerId);
      put({...at(event), toX: '', toY: ''});
    });
    place.addEventListener('pointermove', event => {
      if (!held || kind() === 'WORDS' || Math.hypot(event.clientX - held.x, event.clientY - held.y) < 6) return;
      const to = at(event);
      put({toX: to.x, toY: to.y});
    });
    const drop = () => { held = null; };
    place.addEventListener('pointerup', drop);
    place.addEventListener('pointercancel', drop);
    form.addEventListener('input', preview);
    addEventListener('resize', preview);
    preview();
  };
  document.addEventListener('idlewright:drawn', ready);
  ready();
})();
