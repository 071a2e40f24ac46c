// [data-problems]: takes the focus to what is wrong as soon as it is on the page, and each line to its field.
(() => {
  const show = () => document.querySelector('[data-problems]')?.focus();

  document.addEventListener('click', event => {
    const link = event.target.closest('[data-problems] a[href^="#"]');
    const field = link && document.getElementById(decodeURIComponent(link.hash.slice(1)));
    if (!field) return;
    event.preventDefault();
    field.closest('.field, [data-pad]')?.scrollIntoView({block: 'nearest'});
    field.focus({preventScroll: true});
  });

  document.addEventListener('idlewright:drawn', show);
  document.addEventListener('htmx:afterSwap', show);
  show();
})();
