// form[data-find]: htmx fetches suggestions while typing; here they are chosen by arrow keys.
(() => {
  document.querySelectorAll('form[data-find]').forEach(form => {
    const input = form.elements.q;
    const list = form.querySelector('[role=listbox]');
    input.setAttribute('role', 'combobox');
    input.setAttribute('aria-autocomplete', 'list');
    input.setAttribute('aria-controls', list.id);
    input.setAttribute('aria-expanded', 'false');

    const options = () => [...list.children];
    const chosen = () => options().findIndex(o => o.getAttribute('aria-selected') === 'true');
    const close = () => { list.replaceChildren(); input.setAttribute('aria-expanded', 'false'); input.removeAttribute('aria-activedescendant'); };
    const choose = at => {
      options().forEach((o, i) => o.setAttribute('aria-selected', String(i === at)));
      if (at < 0) input.removeAttribute('aria-activedescendant');
      else input.setAttribute('aria-activedescendant', options()[at].id);
    };

    // Who was signed out meanwhile is led to the sign-in page; that is no list of suggestions.
    form.addEventListener('htmx:beforeSwap', event => {
      const from = new URL(event.detail.xhr.responseURL || location.href).pathname;
      if (from !== input.getAttribute('hx-get') || !form.contains(document.activeElement)) event.detail.shouldSwap = false;
    });
    form.addEventListener('htmx:afterSwap', () => {
      input.removeAttribute('aria-activedescendant');
      input.setAttribute('aria-expanded', String(options().length > 0));
    });

    input.addEventListener('keydown', event => {
      const count = options().length;
      if (event.key === 'Escape') return close();
      if (!count) return;
      if (event.key === 'ArrowDown') { event.preventDefault(); choose((chosen() + 1) % count); }
      if (event.key === 'ArrowUp') { event.preventDefault(); choose(chosen() <= 0 ? count - 1 : chosen() - 1); }
      if (event.key === 'Enter' && chosen() >= 0) { event.preventDefault(); options()[chosen()].querySelector('a').click(); }
    });
    form.addEventListener('focusout', event => { if (!form.contains(event.relatedTarget)) close(); });
  });
})();
