// form[data-find]: suggestions while typing, chosen by arrow keys; the address answers with a list of links.
(() => {
  document.querySelectorAll('form[data-find]').forEach(form => {
    const input = form.elements.q;
    const list = document.createElement('ul');
    list.className = 'suggest';
    list.id = 'suggest';
    list.setAttribute('role', 'listbox');
    list.setAttribute('aria-label', 'Suggestions');
    form.append(list);
    input.setAttribute('role', 'combobox');
    input.setAttribute('aria-autocomplete', 'list');
    input.setAttribute('aria-controls', list.id);
    input.setAttribute('aria-expanded', 'false');
    let waiting;
    let asked = 0;

    const options = () => [...list.children];
    const chosen = () => options().findIndex(o => o.getAttribute('aria-selected') === 'true');
    const close = () => { list.replaceChildren(); input.setAttribute('aria-expanded', 'false'); input.removeAttribute('aria-activedescendant'); };
    const choose = at => {
      options().forEach((o, i) => o.setAttribute('aria-selected', String(i === at)));
      if (at < 0) input.removeAttribute('aria-activedescendant');
      else input.setAttribute('aria-activedescendant', options()[at].id);
    };

    const draw = html => {
      const links = [...new DOMParser().parseFromString(html, 'text/html').querySelectorAll('a[href]')].slice(0, 8);
      list.replaceChildren(...links.map((link, i) => {
        const option = document.createElement('li');
        const a = document.createElement('a');
        a.href = link.getAttribute('href');
        a.textContent = link.textContent.replace(/\s+/g, ' ').trim();
        a.tabIndex = -1;
        option.id = 'suggest-' + i;
        option.setAttribute('role', 'option');
        option.setAttribute('aria-selected', 'false');
        option.append(a);
        return option;
      }));
      input.setAttribute('aria-expanded', String(links.length > 0));
    };

    input.addEventListener('input', () => {
      clearTimeout(waiting);
      const q = input.value.trim();
      if (q.length < 2 || !form.dataset.find) return close();
      waiting = setTimeout(async () => {
        const mine = ++asked;
        try {
          const answer = await fetch(`${form.dataset.find}?q=${encodeURIComponent(q)}`, {headers: {'HX-Request': 'true'}});
          if (!answer.ok || answer.redirected) { form.dataset.find = ''; return close(); }
          const html = await answer.text();
          if (mine === asked) draw(html);
        } catch { close(); }
      }, 150);
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
