// [data-network] says in words whether the network is there. form[data-queue]: a reading is written down on this terminal
// first, then sent; what the server has not answered is called waiting, never kept. Sent in order, each once (its submission
// key sees to that), and only in the name of the person who took it.
(() => {
  const lamp = document.querySelector('[data-network]');
  if (!lamp) return;
  const user = document.body.dataset.user ?? '';
  const ping = document.querySelector('link[rel=icon]')?.href;
  let online = navigator.onLine;
  let sentAt = null;
  let busy = false;

  // the store
  const store = new Promise((resolve, reject) => {
    const open = indexedDB.open('idlewright', 1);
    open.onupgradeneeded = () => open.result.createObjectStore('readings', {keyPath: 'seq', autoIncrement: true});
    open.onsuccess = () => resolve(open.result);
    open.onerror = () => reject(open.error);
  });
  const within = async (mode, work) => {
    const db = await store;
    return new Promise((resolve, reject) => {
      const tx = db.transaction('readings', mode, {durability: 'strict'});
      const request = work(tx.objectStore('readings'));
      tx.oncomplete = () => resolve(request.result);
      tx.onerror = tx.onabort = () => reject(tx.error);
    });
  };
  const all = () => within('readonly', s => s.getAll());
  const add = record => within('readwrite', s => s.add(record));
  const put = record => within('readwrite', s => s.put(record));
  const remove = seq => within('readwrite', s => s.delete(seq));

  // the words
  const clock = () => new Date().toLocaleTimeString('en-GB', {hour: '2-digit', minute: '2-digit'});
  const paint = async () => {
    const records = await all().catch(() => []);
    const waiting = records.filter(r => !r.refused);
    const others = waiting.filter(r => r.user !== user).length;
    const words = [online ? 'Online' : 'Offline'];
    if (waiting.length) words.push(`waiting: ${waiting.length}`);
    else if (sentAt) words.push(`sent ${sentAt}`);
    lamp.dataset.state = online ? (waiting.length ? 'waiting' : 'online') : 'offline';
    if (lamp.textContent !== words.join(', ')) lamp.textContent = words.join(', ');
    lamp.title = others ? `${others} to be sent when the person who took them signs in` : '';
    list(records);
  };

  const list = records => {
    let box = document.querySelector('.waiting-list');
    if (!records.length) return box?.remove();
    if (!box) {
      box = document.createElement('div');
      box.className = 'note waiting-list';
      document.getElementById('main').prepend(box);
    }
    box.replaceChildren(...records.map(r => {
      const line = document.createElement('p');
      line.textContent = r.refused ? `Not taken: ${r.words}, ${r.at}. ` : `Waiting, not kept yet: ${r.words}, ${r.at}.`;
      if (r.refused) {
        const look = document.createElement('button');
        look.type = 'button';
        look.className = 'do';
        look.textContent = 'See why';
        look.addEventListener('click', () => resend(r));
        line.append(look);
      }
      return line;
    }));
  };

  // A refused reading goes to the server once more as an ordinary form, so that its answer is an ordinary page.
  const resend = async record => {
    const form = document.createElement('form');
    form.method = 'post';
    form.action = record.action;
    const token = await freshToken().catch(() => null);
    for (const [name, value] of record.fields) {
      const input = document.createElement('input');
      input.type = 'hidden';
      input.name = name;
      input.value = name === '_csrf' && token ? token : value;
      form.append(input);
    }
    document.body.append(form);
    await remove(record.seq);
    form.submit();
  };

  // the sender
  const newKey = () => {
    if (crypto.randomUUID) return crypto.randomUUID();
    const b = crypto.getRandomValues(new Uint8Array(16));
    b[6] = b[6] & 15 | 64;
    b[8] = b[8] & 63 | 128;
    return [...b].map((x, i) => ([4, 6, 8, 10].includes(i) ? '-' : '') + x.toString(16).padStart(2, '0')).join('');
  };

  const freshToken = async () => {
    const answer = await fetch(location.pathname + location.search, {cache: 'no-store'});
    const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
    if (page.body.dataset.user !== user) return undefined; // signed out, or somebody else by now
    return page.querySelector('input[name=_csrf]')?.value ?? null;
  };

  const post = (record, token) => {
    const body = new URLSearchParams(record.fields);
    if (token) body.set('_csrf', token);
    return fetch(record.action, {method: 'POST', body, headers: {'Idempotency-Key': record.key ?? ''}});
  };

  const sendAll = async hereKey => {
    if (busy) return;
    busy = true;
    try {
      let token;
      for (const record of (await all()).filter(r => !r.refused && r.user === user)) {
        // A reading just typed carries the token of this very page; an older one needs a new one.
        if (record.key !== hereKey && token === undefined) {
          token = await freshToken();
          if (token === undefined) break;
        }
        const answer = await post(record, record.key === hereKey ? null : token);
        online = true;
        const html = await answer.text();
        const page = new DOMParser().parseFromString(html, 'text/html');
        if (answer.status >= 500 || answer.status === 429 || page.querySelector('input[type=password]')) break;
        const taken = answer.ok && !page.querySelector('[data-problems]');
        if (record.key === hereKey) {
          await remove(record.seq);
          if (taken) sentAt = clock();
          draw(page, taken ? answer.url : null);
        } else if (taken) {
          await remove(record.seq);
          sentAt = clock();
        } else {
          await put({...record, refused: true});
        }
      }
    } catch {
      online = false;
    } finally {
      busy = false;
      await paint();
    }
  };

  // A page drawn here has no copy to go back to: the Back button asks for the one before it again.
  const goTo = address => {
    history.pushState(null, '', address);
    const here = location.pathname + location.search;
    addEventListener('popstate', () => { if (location.pathname + location.search !== here) location.reload(); });
  };

  // The answer is already here, with what it says only once: show it instead of asking for it again.
  const draw = (page, address) => {
    const main = page.getElementById('main');
    if (!main) return address && location.assign(address);
    if (address) goTo(address);
    document.title = page.title;
    document.getElementById('main').replaceChildren(...main.childNodes);
    const car = page.querySelector('.bar .car');
    if (car) document.querySelector('.bar .car')?.replaceWith(car);
    scrollTo(0, 0);
    document.dispatchEvent(new Event('idlewright:drawn'));
  };

  const describe = (form, data) => [...form.querySelectorAll('[data-number], select, textarea, input[type=text], input:checked')]
    .filter(e => e.name && e.value && data.has(e.name))
    .map(e => `${e.labels?.[0]?.textContent.trim() ?? e.name} ${e.value} ${document.getElementById(e.id + '-unit')?.textContent ?? ''}`.trim())
    .slice(0, 3).join(', ') || 'a reading';

  document.addEventListener('submit', async event => {
    const form = event.target;
    if (!form.matches('[data-queue]') || !('indexedDB' in window)) return;
    event.preventDefault();
    if (form.dataset.queueing) return;
    form.dataset.queueing = 'yes';
    const data = new FormData(form, event.submitter);
    const key = data.get('submission');
    const record = {action: form.action, fields: [...data], key, user, at: clock(), words: describe(form, data)};
    try {
      await add(record);
    } catch {
      // No store on this terminal: send it the ordinary way.
      delete form.dataset.queueing;
      return form.submit();
    }
    if (online) await sendAll(key);
    delete form.dataset.queueing;
    const still = (await all()).some(r => r.key === key && !r.refused);
    if (!still || !form.isConnected) return;
    // Written down here and waiting: the form is free for the next reading, under a key of its own.
    if (form.elements.submission) form.elements.submission.value = newKey();
    form.querySelectorAll('[data-number]').forEach(f => { f.value = ''; });
    await paint();
  }, true);

  // the watch
  const look = async () => {
    try {
      await fetch(ping + '?' + Date.now(), {method: 'HEAD', cache: 'no-store'});
      online = true;
    } catch {
      online = false;
    }
    if (online) await sendAll();
    else await paint();
  };
  addEventListener('online', look);
  addEventListener('offline', () => { online = false; paint(); });
  setInterval(async () => { if (!online || (await all().catch(() => [])).some(r => !r.refused)) look(); }, 5000);
  navigator.storage?.persist?.();
  paint().then(() => online && sendAll());
})();
