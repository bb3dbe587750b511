// @ts-check
// The engine in a worker: a change goes in, pieces of the page come out. Former values stay beside new ones.

/** @typedef {{limit_g?: number, must_go: string[], not_mine: string[], set: Record<string, string | number>}} Change */
/** @typedef {{parts?: Record<string, string>, data?: any, said?: string, trip?: string, error?: string}} Reply */

/** @type {Change} */
let change = { must_go: [], not_mine: [], set: {} };
/** @type {Change[]} */
const former = [];

const engine = (() => {
  /** Whoever carries the page may bring an engine of its own. @type {((message: object) => Promise<Reply>) | undefined} */
  const host = /** @type {any} */ (window).skerryAsk;
  const text = JSON.parse($('worker').textContent || '""');
  /** @type {Worker | null} */
  let worker = null;
  let next = 0;
  /** @type {Map<number, (reply: Reply) => void>} */
  const waiting = new Map();
  const start = () => {
    const address = URL.createObjectURL(new Blob([text], { type: 'text/javascript' }));
    worker = new Worker(address);
    URL.revokeObjectURL(address);
    worker.onmessage = (event) => {
      const done = waiting.get(event.data.id);
      waiting.delete(event.data.id);
      if (done) done(event.data.reply);
    };
    worker.onerror = () => {
      waiting.forEach((done) => done({ error: 'This browser cannot run what computes: the page shows what was computed.' }));
      waiting.clear();
    };
    worker.postMessage({ engine: $('engine').textContent });
  };
  return {
    able: Boolean(host || (text && typeof Worker === 'function' && typeof WebAssembly === 'object')),
    /** @param {object} message @returns {Promise<Reply>} */
    ask: (message) => {
      if (host) return host(message);
      if (!worker) start();
      return new Promise((done) => {
        next += 1;
        waiting.set(next, done);
        /** @type {Worker} */ (worker).postMessage({ id: next, message });
      });
    },
    /** Whatever is computed is given up; the next question starts anew. */
    stop: () => {
      if (worker) worker.terminate();
      worker = null;
      waiting.forEach((done) => done({ error: '' }));
      waiting.clear();
    },
  };
})();

/** What a number is held against: its name, and of several modes its place. @param {any} element @param {number} i */
const keyOf = (element, i) => element.dataset.v + (element.dataset.v === 'mode' ? i : '');

/** What stood in a piece: numbers by their names, cells by their places. @param {ParentNode} part */
const values = (part) => {
  /** @type {Map<string, string>} */
  const out = new Map();
  all('[data-v]', part).forEach((element, i) => out.set(keyOf(element, i), element.firstChild ? element.firstChild.textContent.trim() : ''));
  all('.cell', part).forEach((td) => out.set(td.dataset.way + '-' + td.dataset.hour, td.textContent));
  return out;
};

/** The element that has the focus, by what is the same in the new piece. @param {any} element */
const nameOf = (element) => {
  if (!element || element === document.body) return '';
  if (element.id) return '#' + element.id;
  if (element.dataset.thing) return '.pick[data-thing="' + CSS.escape(element.dataset.thing) + '"]';
  if (element.dataset.way) return '.cell[data-way="' + element.dataset.way + '"][data-hour="' + element.dataset.hour + '"]';
  return element.dataset.step ? '[data-step="' + element.dataset.step + '"]' : '';
};

/** `more`: the rest of an answer whose first pieces are there: former values stay what they were.
 * @param {Record<string, string>} parts @param {boolean} more @param {string[]} [except] */
const putParts = (parts, more, except) => {
  const focus = nameOf(document.activeElement);
  if (!more) all('[data-part]').forEach((slot) => slot.classList.toggle('stale', !parts[slot.dataset.part] && slot.innerHTML !== ''));
  Object.keys(parts).forEach((name) => {
    if (except && except.includes(name)) return;
    all('[data-part="' + name + '"]').forEach((slot) => {
      // What takes longer comes later: until then the former piece stays, faded.
      if (!more && !parts[name] && slot.innerHTML) return;
      slot.classList.remove('stale');
      const before = values(slot);
      const ghosts = new Map(all('[data-v]', slot).map((element, i) => [keyOf(element, i), element.querySelector('.ghost')]));
      const changed = all('.cell.changed', slot).map((td) => td.dataset.way + '-' + td.dataset.hour);
      slot.innerHTML = parts[name];
      all('[data-v]', slot).forEach((element, i) => {
        const ghost = more && ghosts.get(keyOf(element, i));
        if (ghost) element.append(' ', ghost);
        if (more) return;
        const was = before.get(keyOf(element, i));
        if (was !== undefined && was !== element.textContent) element.append(' ', html('s', was, 'ghost'));
      });
      all('.cell', slot).forEach((td) => {
        const was = before.get(td.dataset.way + '-' + td.dataset.hour);
        td.classList.toggle('changed', more ? changed.includes(td.dataset.way + '-' + td.dataset.hour) : was !== undefined && was !== td.textContent);
      });
    });
  });
  dressBeam();
  dressFigures();
  const again = focus && document.querySelector(focus);
  if (again && again !== document.activeElement) /** @type {HTMLElement} */ (again).focus({ preventScroll: true });
};

/** @param {any} fresh */
const putData = (fresh) => {
  data = typeof fresh === 'string' ? JSON.parse(fresh) : fresh;
  if (!data.ways[state.way]) Object.assign(state, data.start);
  showSet();
  state.band = Math.min(state.band, data.bands.length - 1);
  draw();
};

let opened = false;
let asking = false;
/** @type {boolean} */
let again = false;

/** @param {Reply} reply */
const failed = (reply) => {
  if (reply.error === undefined) return false;
  $('trip-error').hidden = reply.error === '';
  $('trip-error').textContent = reply.error;
  say(reply.error);
  return true;
};

/** @param {boolean} on */
const busy = (on) => {
  document.body.classList.toggle('busy', on);
  $('cancel-button').hidden = !on;
};

/** The trip file goes in whole; what it says is answered. @param {boolean} show */
const openTrip = async (show) => {
  busy(show);
  const reply = await engine.ask({ do: 'open', trip: $('trip-text').value });
  busy(false);
  if (failed(reply)) return false;
  opened = true;
  if (show) {
    change = { must_go: [], not_mine: [], set: {} };
    if (reply.parts) putParts(reply.parts, false);
    await rest();
  }
  return true;
};

const rest = async () => {
  const reply = await engine.ask({ do: 'rest' });
  if (failed(reply) || again) return;
  if (reply.parts) putParts(reply.parts, true);
  if (reply.data) putData(reply.data);
};

/** One question at a time; of those that came meanwhile the last one counts. */
const work = async () => {
  if (asking) {
    again = true;
    return;
  }
  asking = true;
  // A short answer needs no sign that it is awaited.
  const slow = setTimeout(() => busy(true), 250);
  do {
    again = false;
    if (!opened && !(await openTrip(false))) break;
    const reply = await engine.ask(Object.assign({ do: 'change' }, change));
    if (failed(reply)) break;
    if (reply.parts) putParts(reply.parts, false, dragging ? ['beam'] : []);
    if (reply.said) {
      $('changed').hidden = false;
      $('changed-text').textContent = reply.said;
      say(reply.said);
    }
    draw();
    if (!again && !dragging) await rest();
  } while (again);
  clearTimeout(slow);
  busy(false);
  asking = false;
};

/** @param {Partial<Change>} what */
const changeTo = (what) => {
  former.push(change);
  change = Object.assign({}, change, what);
  writeFragment();
  showSet();
  work();
};

/** The steppers show what is asked, else what the trip says. */
const showSet = () => {
  $('set-date').value = change.set.date || data.first_day;
  $('set-power').value = change.set.power_w || data.power_w || '';
  $('set-sun').value = change.set.r12 === undefined ? data.r12 : change.set.r12;
};

/** The change as words of a link. @returns {string[]} */
const changeWords = () => {
  const out = [];
  if (change.limit_g !== undefined) out.push('limit=' + Math.round(change.limit_g));
  if (change.must_go.length) out.push('must=' + change.must_go.map(encodeURIComponent).join(','));
  if (change.not_mine.length) out.push('not=' + change.not_mine.map(encodeURIComponent).join(','));
  Object.keys(change.set).forEach((key) => out.push(key + '=' + encodeURIComponent(String(change.set[key]))));
  return out;
};

/** What a link says: an hour, a change, or both. Numbers out of range are left alone. */
const readFragment = () => {
  const words = new Map(location.hash.slice(1).split('&').map((part) => {
    const [key, value] = part.split('=');
    /** @type {[string, string]} */
    const pair = [key, value || ''];
    return pair;
  }));
  /** @param {string} key @param {number} most */
  const number = (key, most) => {
    const n = Number(words.get(key));
    return words.has(key) && Number.isInteger(n) && n >= 0 && n < most ? n : undefined;
  };
  const band = data.bands.findIndex((/** @type {any} */ b) => words.get('band') === encodeURIComponent(b.id));
  const way = number('way', data.ways.length);
  const hour = number('hour', 24);
  if (way !== undefined) state.way = way;
  if (hour !== undefined) state.hour = hour;
  if (band >= 0) state.band = band;
  /** @param {string} key */
  const list = (key) => (words.get(key) || '').split(',').filter(Boolean).map((part) => {
    try { return decodeURIComponent(part); } catch (broken) { return ''; }
  }).filter(Boolean);
  /** @type {Change} */
  const wanted = { must_go: list('must'), not_mine: list('not'), set: {} };
  const limit = number('limit', 1e6);
  if (limit) wanted.limit_g = limit;
  ['power_w', 'r12'].forEach((key) => {
    const n = Number(words.get(key));
    if (words.get(key) && Number.isFinite(n)) wanted.set[key] = n;
  });
  const date = words.get('date') || '';
  if (/^\d{4}-\d\d-\d\d$/.test(date)) wanted.set.date = date;
  return wanted;
};
