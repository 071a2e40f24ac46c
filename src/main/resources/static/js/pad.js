// [data-pad]: the keys write into the reading beside them. Keyboard and pad do the same.
(() => {
  const press = (field, key) => {
    const text = field.value;
    if (key === 'clear') field.value = '';
    else if (key === 'back') field.value = text.slice(0, -1);
    else if (key === 'sign') field.value = /^[-\u2212]/.test(text) ? text.slice(1) : '-' + text;
    else if (key === '.' && /[.,]/.test(text)) return;
    else field.value = text + key;
    field.dispatchEvent(new Event('input', {bubbles: true}));
  };

  document.addEventListener('click', event => {
    const key = event.target.closest('[data-pad] [data-key]');
    const field = key?.closest('[data-pad]').querySelector('input[data-number]');
    if (!field) return;
    press(field, key.dataset.key);
    field.focus({preventScroll: true});
  });

  // The pad is on the page: no second keyboard over it.
  const ready = () => {
    const field = document.querySelector('[data-pad] input[data-number]');
    if (!field) return;
    field.inputMode = 'none';
    if (!document.querySelector('[data-problems]')) field.focus({preventScroll: true});
  };
  document.addEventListener('idlewright:drawn', ready);
  ready();
})();
