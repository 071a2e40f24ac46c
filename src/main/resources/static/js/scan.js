// body[data-scan]: a scanner types fast and ends with Enter. A scan opens what it names, or fills the code field that has the
// focus; it never sends a half-filled form and leaves no letters in other fields. There are slow scanners too: in a form of
// several fields, and in any code field, Enter only goes on to the next field.
(() => {
  const open = e => e.checkVisibility?.() ?? e.offsetParent !== null;
  const fields = form => [...form.elements].filter(e => e.name && open(e) && !['hidden', 'submit', 'button', 'fieldset'].includes(e.type));
  const onwards = field => {
    const all = field.form ? fields(field.form) : [];
    const next = all[all.indexOf(field) + 1] ?? (all.length > 1 ? field.form.querySelector('button:not([type=button])') : null);
    next?.focus();
  };

  document.addEventListener('keydown', event => {
    const field = event.target;
    if (event.key !== 'Enter' || event.isComposing || !field.matches?.('input') || field.form?.method !== 'post' || field.closest('[data-pad]')) return;
    if (!['text', 'number', 'date', 'tel', 'email'].includes(field.type)) return;
    if (!field.matches('[data-code]') && !document.body.dataset.scan) return;
    if (fields(field.form).length < 2) return;
    event.preventDefault();
    onwards(field);
  });

  const to = document.body.dataset.scan;
  if (!to) return;
  const fast = 40; // ms between keys; no hand is that quick for four keys on end
  const least = 4;
  let text = '';
  let last = 0;
  let before = null;

  const remember = field => {
    before = field && 'value' in field && field.tagName !== 'BUTTON' ? {field, value: field.value} : null;
  };

  const say = words => {
    let box = document.querySelector('.notice.scan');
    if (!box) {
      box = document.createElement('div');
      box.className = 'notice scan';
      box.setAttribute('role', 'status');
      document.getElementById('main').prepend(box);
    }
    box.textContent = words;
  };

  addEventListener('keydown', event => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    const quick = event.timeStamp - last < fast;
    last = event.timeStamp;
    if (event.key.length === 1) {
      if (!quick) { text = ''; remember(document.activeElement); }
      text += event.key;
      return;
    }
    if (event.key !== 'Enter' || !quick || text.length < least) {
      if (event.key !== 'Shift') text = '';
      return;
    }
    const code = text;
    text = '';
    event.preventDefault();
    event.stopPropagation();
    if (document.activeElement?.matches('[data-code]')) return onwards(document.activeElement);
    if (before?.field.isConnected && before.field.value !== before.value) {
      before.field.value = before.value;
      before.field.dispatchEvent(new Event('input', {bubbles: true}));
    }
    if (document.querySelector('dialog[open]')) return say(`The scan ${code} was not taken: answer the question first.`);
    location.assign(`${to}?q=${encodeURIComponent(code)}`);
  }, true);
})();
