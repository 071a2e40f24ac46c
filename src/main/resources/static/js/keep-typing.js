// form[data-keep]: what was typed outlives a lost session, a failed answer and a wrong turn; each person sees only their own.
(() => {
  const user = document.body.dataset.user ?? '';
  const prefix = 'typed:';
  const keyOf = form => prefix + user + ':' + new URL(form.action, location).pathname;
  const read = key => JSON.parse(sessionStorage.getItem(key) ?? 'null');
  const write = (key, draft) => { try { sessionStorage.setItem(key, JSON.stringify(draft)); } catch { /* full or forbidden: typing goes on */ } };
  const typed = form => [...form.elements].filter(e => e.name && !['hidden', 'password', 'file', 'submit', 'button', 'fieldset'].includes(e.type));
  const now = () => new Date().toLocaleTimeString('en-GB', {hour: '2-digit', minute: '2-digit'});

  const values = form => typed(form).map(e => ({name: e.name, value: e.value, on: 'checked' in e ? e.checked : undefined}));

  const restore = (form, draft) => {
    const left = [...draft.values];
    let changed = false;
    for (const e of typed(form)) {
      const choice = e.type === 'radio' || e.type === 'checkbox';
      const at = left.findIndex(v => v.name === e.name && (!choice || v.value === e.value));
      if (at < 0) continue;
      const [kept] = left.splice(at, 1);
      if (choice ? e.checked !== kept.on : e.value !== kept.value) {
        changed = true;
        if (choice) e.checked = kept.on; else e.value = kept.value;
      }
    }
    return changed;
  };

  const tell = (form, key, draft, before) => {
    const note = document.createElement('div');
    note.className = 'kept';
    note.setAttribute('role', 'status');
    const words = document.createElement('span');
    words.textContent = `What you typed at ${draft.at} is back. `;
    const drop = document.createElement('button');
    drop.type = 'button';
    drop.className = 'plain';
    drop.textContent = 'Use what was there before';
    drop.addEventListener('click', () => { restore(form, {values: before}); sessionStorage.removeItem(key); note.remove(); });
    note.append(words, drop);
    form.prepend(note);
  };

  document.addEventListener('input', event => {
    const form = event.target.form;
    if (form?.matches('[data-keep]')) write(keyOf(form), {values: values(form), at: now()});
  });

  document.addEventListener('submit', event => {
    const form = event.target;
    if (form.matches('[data-keep]') && !event.defaultPrevented) write(keyOf(form), {values: values(form), at: now(), sent: true});
  });

  // A page that says neither "there is a problem" nor "sign in" nor "failed" is the answer to a form that went through.
  const failed = document.querySelector('[data-problems], [data-failed], input[type=password]') !== null;
  for (const key of Object.keys(sessionStorage).filter(k => k.startsWith(prefix + user + ':'))) {
    const draft = read(key);
    if (draft?.sent && failed) write(key, {...draft, waited: true});
    else if (draft?.sent && !draft.waited) sessionStorage.removeItem(key);
  }
  for (const form of document.querySelectorAll('form[data-keep]')) {
    const key = keyOf(form);
    const draft = read(key);
    if (!draft) continue;
    const before = values(form);
    if (restore(form, draft)) tell(form, key, draft, before);
  }
})();
