// form[data-once]: the second press of a button changes nothing while the first is under way; says so after a second.
(() => {
  const buttons = form => [...form.elements].filter(e => e.type === 'submit');

  const free = form => {
    delete form.dataset.sent;
    buttons(form).forEach(b => { b.disabled = false; });
    form.querySelector('.still')?.remove();
  };

  document.addEventListener('submit', event => {
    const form = event.target;
    if (!form.matches('[data-once]') || event.defaultPrevented) return;
    if (form.dataset.sent) return event.preventDefault();
    form.dataset.sent = 'sent';
    // After this turn: a disabled button would not send its own name and value.
    setTimeout(() => buttons(form).forEach(b => { b.disabled = true; }));
    setTimeout(() => {
      if (!form.dataset.sent || !form.isConnected) return;
      const still = document.createElement('p');
      still.className = 'still';
      still.setAttribute('role', 'status');
      still.textContent = 'Still working. Once is enough.';
      form.append(still);
    }, 1000);
  });

  // Coming back by the Back button finds the page as it was left.
  addEventListener('pageshow', event => { if (event.persisted) document.querySelectorAll('form[data-sent]').forEach(free); });
  document.addEventListener('htmx:afterRequest', event => event.target.closest?.('form[data-sent]') && free(event.target.closest('form')));
  document.addEventListener('idlewright:free', event => free(event.target));
})();
