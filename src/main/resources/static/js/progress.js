// form[data-progress]: sends files with a bar and a figure; a dropped line is tried again without choosing the file anew.
(() => {
  const pauses = [1000, 2000, 4000];

  const panel = form => {
    let box = form.querySelector('.sending');
    if (!box) {
      box = document.createElement('div');
      box.className = 'sending';
      const bar = document.createElement('progress');
      bar.max = 100;
      bar.setAttribute('aria-label', 'Sent so far');
      const words = document.createElement('p');
      words.className = 'soft';
      words.setAttribute('role', 'status');
      box.append(bar, words);
      form.append(box);
    }
    return {bar: box.querySelector('progress'), words: box.querySelector('p')};
  };

  // A page drawn here has no copy to go back to: the Back button asks for the one before it again.
  const goTo = address => {
    history.pushState(null, '', address);
    const here = location.pathname + location.search;
    addEventListener('popstate', () => { if (location.pathname + location.search !== here) location.reload(); });
  };

  const draw = xhr => {
    const page = new DOMParser().parseFromString(xhr.responseText, 'text/html');
    const main = page.getElementById('main');
    const taken = xhr.status < 400 && !page.querySelector('[data-problems]');
    if (!main) return location.assign(xhr.responseURL);
    // The answer is already here, with what it says only once: show it instead of asking for it again.
    if (taken) goTo(xhr.responseURL);
    document.title = page.title;
    document.getElementById('main').replaceChildren(...main.childNodes);
    document.dispatchEvent(new Event('idlewright:drawn'));
  };

  const send = (form, data, tries) => {
    const {bar, words} = panel(form);
    const xhr = new XMLHttpRequest();
    xhr.open('POST', form.action);
    xhr.upload.onprogress = e => {
      if (!e.lengthComputable) return;
      bar.value = e.loaded / e.total * 100;
      words.textContent = e.loaded < e.total ? `${Math.floor(bar.value)} % sent` : 'All sent, waiting for the answer';
    };
    xhr.onload = () => draw(xhr);
    xhr.onerror = () => {
      if (tries < pauses.length) {
        words.textContent = 'The line dropped. Trying again.';
        setTimeout(() => send(form, data, tries + 1), pauses[tries]);
      } else {
        words.textContent = 'The line is down. Nothing was kept. The file is still chosen: press the button to try again.';
        form.dispatchEvent(new Event('idlewright:free', {bubbles: true}));
      }
    };
    xhr.send(data);
  };

  // What is too large is said at once, not after minutes of sending.
  const tooLarge = form => {
    for (const field of form.querySelectorAll('[data-most]')) {
      const most = Number(field.dataset.most);
      const file = [...field.querySelectorAll('input[type=file]')].flatMap(f => [...f.files]).find(f => f.size > most * 1048576);
      field.querySelector('.wrong.size')?.remove();
      if (!file) continue;
      const words = document.createElement('p');
      words.className = 'wrong size';
      words.setAttribute('role', 'alert');
      words.textContent = `${file.name} has ${Math.ceil(file.size / 1048576)} MB; ${most} MB at most. Choose a smaller one, or take it with fewer pixels.`;
      field.append(words);
      return true;
    }
    return false;
  };
  document.addEventListener('change', event => {
    if (event.target.type === 'file') tooLarge(event.target.form ?? document.createElement('form'));
  });

  document.addEventListener('submit', event => {
    const form = event.target;
    if (!form.matches('[data-progress]') || event.defaultPrevented) return;
    if (![...form.querySelectorAll('input[type=file]')].some(f => f.files.length)) return;
    if (tooLarge(form)) {
      event.preventDefault();
      return form.dispatchEvent(new Event('idlewright:free', {bubbles: true}));
    }
    const data = new FormData(form, event.submitter);
    event.preventDefault();
    send(form, data, 0);
  });
})();
