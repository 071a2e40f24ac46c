// [data-network] says in words whether the network is there. form[data-queue]: a reading is written down on this terminal
// first, then sent; what the server has not answered is called waiting, never kept. The page goes on to the next question
// ([data-question] holds them), so that none is answered twice. Sent in order, each once (its submission key sees to that),
// and only in the name of the person who took it. While the network is away, other forms and links wait, too.
(() => {
  const lamp = document.querySelector('[data-network]');
  if (!lamp) return;
  const user = document.body.dataset.user ?? '';
  const ping = document.querySelector('link[rel=icon]')?.href;
  let online = navigator.onLine;
  let sentAt = null;
  let line = Promise.resolve();
  let sending = 0;
  const patience = 4000; // ms a person waits at a question before the page goes on without the answer
  const movedOn = new Set();

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
    if (waiting.length) words.push(`waiting to be sent: ${waiting.length}`);
    else if (sentAt) words.push(`sent ${sentAt}`);
    lamp.dataset.state = online ? (waiting.length ? 'waiting' : 'online') : 'offline';
    if (lamp.textContent !== words.join(', ')) lamp.textContent = words.join(', ');
    lamp.title = others ? `${others} to be sent when the person who took them signs in` : '';
    list(records);
  };

  const list = records => {
    let box = document.querySelector('.waiting-list');
    if (!records.length) return box?.remove();
    const open = box?.querySelector('details')?.open ?? false;
    if (!box) {
      box = document.createElement('div');
      box.className = 'note waiting-list';
      document.getElementById('main').prepend(box);
    }
    const line = (tag, words) => {
      const each = document.createElement(tag);
      each.textContent = words;
      return each;
    };
    const waiting = records.filter(r => !r.refused);
    const told = records.filter(r => r.refused).map(r => {
      const each = line('p', `Not taken: ${r.words}, ${r.at}. `);
      const look = document.createElement('button');
      look.type = 'button';
      look.className = 'do';
      look.textContent = 'See why';
      look.addEventListener('click', () => resend(r));
      each.append(look);
      return each;
    });
    if (waiting.length) {
      const more = document.createElement('details');
      more.open = open;
      more.append(
        line('summary', waiting.length === 1 ? '1 reading is written down here, waiting to be sent' : `${waiting.length} readings are written down here, waiting to be sent`),
        ...waiting.map(r => line('p', `${r.words}, ${r.at}. Not kept yet.`)));
      told.push(more);
    }
    box.replaceChildren(...told);
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
    return fetch(record.action, {method: 'POST', body, headers: {'Idempotency-Key': record.key ?? ''}, signal: AbortSignal.timeout(15000)});
  };

  // One at a time: who comes while another sends stands in line.
  const sendAll = hereKey => {
    sending++;
    line = line.then(() => sendNow(hereKey)).finally(() => { sending--; });
    return line;
  };

  const sendNow = async hereKey => {
    let behind = null;
    try {
      let token;
      for (const record of (await all()).filter(r => !r.refused && r.user === user)) {
        // A reading just typed carries the token of this very page; an older one needs a new one.
        const fresh = record.key === hereKey;
        if (!fresh && token === undefined) {
          token = await freshToken();
          if (token === undefined) break;
        }
        const answer = await post(record, fresh ? null : token);
        online = true;
        const html = await answer.text();
        const page = new DOMParser().parseFromString(html, 'text/html');
        if (answer.status >= 500 || answer.status === 429 || page.querySelector('input[type=password]')) break;
        const taken = answer.ok && !page.querySelector('[data-problems]');
        if (fresh && !movedOn.has(record.key)) {
          await remove(record.seq);
          if (taken) sentAt = clock();
          draw(page, taken ? answer.url : null);
        } else if (taken) {
          await remove(record.seq);
          sentAt = clock();
          if (record.action === queue()?.action) behind = answer.url;
        } else {
          await put({...record, refused: true});
        }
      }
    } catch {
      online = false;
    }
    if (behind) await refresh(behind).catch(() => {});
    await paint();
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

  // the questions of this page
  const queue = () => document.querySelector('form[data-queue]');
  const asked = form => form.elements.point && `${form.elements.point.value}.${form.elements.spot?.value ?? 0}`;
  const field = (fields, name) => fields.find(f => f[0] === name)?.[1];

  const waitingAt = async form => new Set((await all().catch(() => []))
    .filter(r => !r.refused && r.user === user && r.action === form.action)
    .map(r => `${field(r.fields, 'point')}.${field(r.fields, 'spot') ?? 0}`));

  // Goes on to the next question nobody has answered, kept or waiting; says so when there is none.
  const goOn = async form => {
    const waiting = await waitingAt(form);
    const questions = [...document.querySelectorAll('template[data-question]')].filter(q => !waiting.has(q.dataset.question));
    const here = Number(form.dataset.place ?? 0);
    const next = questions.find(q => Number(q.dataset.place) > here)
      ?? questions.find(q => q.dataset.optional === undefined);
    const token = form.elements._csrf;
    if (next) {
      form.replaceChildren(next.content.cloneNode(true));
      form.dataset.place = next.dataset.place;
      if (form.elements.submission) form.elements.submission.value = newKey();
      const count = document.querySelector('[data-count]');
      if (count) count.textContent = next.dataset.count;
    } else {
      const done = document.createElement('p');
      done.className = 'note';
      done.textContent = 'Every question of this test is answered. As soon as the network is back, the readings are sent and this page says what they mean.';
      form.replaceChildren(done);
    }
    if (token) form.append(token);
    document.dispatchEvent(new Event('idlewright:drawn'));
  };

  // What was sent behind the back of this page has changed it: shown anew, with what is being typed.
  const refresh = async behind => {
    const form = queue();
    if (!form) return;
    const key = asked(form);
    const url = new URL(behind);
    if (key) url.searchParams.set('at', key);
    const answer = await fetch(url, {cache: 'no-store', signal: AbortSignal.timeout(15000)});
    const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
    if (!answer.ok || page.body.dataset.user !== user || queue() !== form || asked(form) !== key) return;
    const own = f => [...f.elements].filter(e => e.name && !['hidden', 'submit', 'button', 'fieldset'].includes(e.type));
    const typed = own(form).map(e => [e.name, e.value, e.checked]);
    draw(page, url.href);
    const now = queue();
    if (!now || asked(now) !== key) return;
    for (const e of own(now)) {
      const kept = typed.find(t => t[0] === e.name && (!['radio', 'checkbox'].includes(e.type) || t[1] === e.value));
      if (kept && 'checked' in e && ['radio', 'checkbox'].includes(e.type)) e.checked = kept[2];
      else if (kept) e.value = kept[1];
    }
  };

  const describe = (form, data, pressed) => [...form.querySelectorAll('[data-number], select, textarea, input[type=text], input:checked')]
    .filter(e => e.name && e.name !== 'unit' && e.value && data.has(e.name))
    .map(e => `${e.labels?.[0]?.textContent.trim() ?? e.name} ${e.value} ${e.matches('[data-number]') ? data.get('unit') ?? '' : ''}`.trim())
    .slice(0, 3).join(', ') || [form.querySelector('h2')?.textContent.replace(/^Next: /, '').trim(), pressed?.textContent.trim()].filter(Boolean).join(': ') || 'a reading';

  // The second tap of a double tap falls on the question that has just come: it means nothing.
  document.addEventListener('idlewright:drawn', () => {
    const form = queue();
    if (!form) return;
    form.dataset.justDrawn = '';
    setTimeout(() => { delete form.dataset.justDrawn; }, 400);
  });
  document.addEventListener('click', event => {
    if (event.detail > 1 && event.target.closest('[data-just-drawn] button:not([type=button])')) event.preventDefault();
  }, true);

  const later = ms => new Promise(done => setTimeout(done, ms, 'later'));

  document.addEventListener('submit', async event => {
    const form = event.target;
    if (!form.matches('[data-queue]') || !('indexedDB' in window)) return;
    event.preventDefault();
    if (form.dataset.queueing) return;
    const number = form.querySelector('[data-number]');
    if (!online && number && !number.value.trim()) return number.focus();
    form.dataset.queueing = 'yes';
    const data = new FormData(form, event.submitter);
    const key = data.get('submission');
    const record = {action: form.action, fields: [...data], key, user, at: clock(), words: describe(form, data, event.submitter)};
    try {
      await add(record);
    } catch {
      // No store on this terminal: send it the ordinary way.
      delete form.dataset.queueing;
      return form.submit();
    }
    if (online) await Promise.race([sendAll(key), later(patience)]);
    delete form.dataset.queueing;
    const still = (await all()).some(r => r.key === key && !r.refused);
    if (!still || !form.isConnected) return;
    movedOn.add(key);
    await goOn(form);
    await paint();
  }, true);

  // Without the network nothing else can be sent or opened: say so and keep the page, for the browser's own page would take its place.
  const stay = words => {
    let box = document.querySelector('.notice.away');
    if (!box) {
      box = document.createElement('div');
      box.className = 'notice away';
      box.setAttribute('role', 'alert');
      document.getElementById('main').prepend(box);
    }
    box.textContent = words;
    box.scrollIntoView({block: 'nearest'});
  };
  const back = () => document.querySelector('.notice.away')?.remove();
  document.addEventListener('submit', event => {
    const form = event.target;
    if (navigator.onLine || form.matches('[data-queue]') || form.method !== 'post') return;
    event.preventDefault();
    stay('The network is away. Nothing was sent; what you typed stays here. Press again when this terminal says Online.');
  }, true);
  document.addEventListener('click', event => {
    const link = event.target.closest?.('a[href]');
    if (navigator.onLine || !link || link.getAttribute('href').startsWith('#') || event.defaultPrevented) return;
    event.preventDefault();
    stay('The network is away: this page cannot be left until this terminal says Online. Readings can still be taken here.');
  });

  // the watch
  const look = async () => {
    try {
      await fetch(ping + '?' + Date.now(), {method: 'HEAD', cache: 'no-store', signal: AbortSignal.timeout(3000)});
      online = true;
      back();
    } catch {
      online = false;
    }
    if (online) await sendAll();
    else await paint();
  };
  addEventListener('online', look);
  addEventListener('offline', () => { online = false; paint(); });
  setInterval(async () => { if (!sending && (!online || (await all().catch(() => [])).some(r => !r.refused))) look(); }, 5000);
  navigator.storage?.persist?.();
  // A page opened while a reading of it still waits does not ask for it again.
  const settle = async () => {
    const form = queue();
    if (form && asked(form) && (await waitingAt(form)).has(asked(form))) await goOn(form);
  };
  settle().then(paint).then(() => online && sendAll());
})();
