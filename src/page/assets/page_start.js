// @ts-check
// Everything is wired here: ticks, the card, pictures to be saved, the choice, the trip's editor.

/** @param {string} name @param {string} text @param {string} type */
const download = (name, text, type) => {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = html('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
};

/** A picture as a file: what is shown, with its own style and on its own paper. @param {any} figure */
const savePicture = (figure) => {
  const shown = all('svg', figure).find((svg) => !svg.closest('[hidden]'));
  if (!shown) return;
  const copy = shown.cloneNode(true);
  const box = shown.viewBox.baseVal;
  const said = shown.getAttribute('aria-label');
  /** @param {string} name @param {Record<string, any>} attributes @param {string} [text] */
  const make = (name, attributes, text) => {
    const element = document.createElementNS('http://www.w3.org/2000/svg', name);
    Object.keys(attributes).forEach((key) => element.setAttribute(key, attributes[key]));
    if (text !== undefined) element.textContent = text;
    return element;
  };
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  copy.setAttribute('font-family', 'sans-serif');
  // The caption goes along below, broken into lines.
  const letter = box.width / 48;
  const lines = [''];
  figure.querySelector('figcaption').textContent.split(/\s+/).forEach((/** @type {string} */ part) => {
    const last = lines[lines.length - 1];
    if ((last + ' ' + part).length * letter * 0.55 > box.width) lines.push(part);
    else lines[lines.length - 1] = (last + ' ' + part).trim();
  });
  lines.forEach((line, i) => copy.appendChild(make('text',
    { x: box.x + letter / 2, y: box.y + box.height + letter * 1.4 * (i + 1), class: 'caption' }, line)));
  const tall = box.height + letter * 1.4 * (lines.length + 1);
  copy.setAttribute('viewBox', [box.x, box.y, box.width, tall].join(' '));
  copy.setAttribute('width', box.width);
  copy.setAttribute('height', tall);
  copy.prepend(make('rect', { x: box.x, y: box.y, width: box.width, height: tall, fill: '#fff' }));
  copy.prepend(make('style', {}, data.picture_style + '\nsvg text.caption{font-size:' + letter.toFixed(2) + 'px}'));
  copy.prepend(make('title', {}, said));
  download((shown.getAttribute('class') + ' ' + said).toLowerCase().replace(/[^a-z0-9]+/g, '-').slice(0, 60) + '.svg',
    new XMLSerializer().serializeToString(copy), 'image/svg+xml');
};

/** What new pieces need: buttons to save pictures, ticks as they were, strips as they are asked. */
const dressFigures = () => {
  all('figure').forEach((figure) => {
    if (figure.querySelector('.save')) return;
    const small = figure.closest('.plots');
    const button = html('button', small ? 'Save' : 'Save picture', 'save screen');
    if (small) button.setAttribute('aria-label', 'Save picture: ' + figure.querySelector('figcaption').textContent.trim());
    button.type = 'button';
    figure.appendChild(button);
  });
  const before = remembered('skerry.ticks.' + data.id);
  const ticks = all('[data-tick]');
  ticks.forEach((tick) => { tick.checked = before[tick.dataset.tick] === true; });
  countTicks();
};
const countTicks = () => {
  const ticks = all('[data-tick]');
  $('tick-count').textContent = fill(data.texts.packed, ticks.filter((tick) => tick.checked).length, ticks.length);
};

/** The key that the line at the caret speaks of, and what the trip file takes there. */
const helpField = () => {
  const box = $('trip-text');
  const lines = box.value.slice(0, box.selectionStart).split('\n');
  const end = box.value.indexOf('\n', box.selectionStart);
  const line = box.value.slice(box.selectionStart - lines[lines.length - 1].length, end < 0 ? undefined : end);
  const head = lines.slice().reverse().map((/** @type {string} */ text) => /^\s*\[+([^\]]+)\]/.exec(text)).find(Boolean);
  const key = /^\s*([A-Za-z0-9_]+)\s*=/.exec(line);
  const table = head ? head[1].trim() : 'trip file';
  const field = key && fields.find((/** @type {string[]} */ f) => f[0] === table && f[1] === key[1]);
  const keys = fields.filter((/** @type {string[]} */ f) => f[0] === table).map((/** @type {string[]} */ f) => f[1]);
  $('field-help').textContent = field ? field[1] + ': ' + field[3] + '. Accepted: ' + field[2] + '.' :
    keys.length ? '[' + table + '] takes: ' + keys.join(', ') : '';
};
const fields = JSON.parse($('fields').textContent || '[]');

/** @param {File | null | undefined} file */
const readTrip = async (file) => {
  if (!file) return;
  if (file.size > 1e6) {
    failed({ error: 'A trip file has at most a megabyte: ' + file.name });
    return;
  }
  takeTrip(await file.text());
};
/** @param {string} text */
const takeTrip = (text) => {
  $('trip-text').value = text;
  former.length = 0;
  openTrip(true);
};

/** @type {number | undefined} */
let playing;
/** @param {boolean} on */
const play = (on) => {
  clearInterval(playing);
  playing = on ? setInterval(() => choose({ hour: (state.hour + 1) % 24 }, true), 700) : undefined;
  $('play').setAttribute('aria-pressed', String(on));
};

/** @param {string} what @param {number} by */
const stepSet = (what, by) => {
  const box = $('set-' + what);
  if (what === 'date') {
    const day = new Date((box.value || data.day) + 'T00:00:00Z');
    day.setUTCDate(day.getUTCDate() + by);
    box.value = day.toISOString().slice(0, 10);
  } else {
    const now = Number(box.value);
    // A watt more where there are few, a tenth more where there are many.
    const step = what === 'power' ? by * Math.max(1, Math.round(now / 10)) : by;
    box.value = String(Math.min(Number(box.max), Math.max(Number(box.min), now + step)));
  }
  tellSet(what);
};
/** @param {string} what */
const tellSet = (what) => {
  const box = $('set-' + what);
  const key = /** @type {Record<string, string>} */ ({ date: 'date', power: 'power_w', sun: 'r12' })[what];
  if (!box.value || !box.checkValidity()) return;
  changeTo({ set: Object.assign({}, change.set, { [key]: what === 'date' ? box.value : Number(box.value) }) });
};

const wire = () => {
  document.addEventListener('change', (/** @type {any} */ event) => {
    const target = event.target;
    if (target.dataset.tick !== undefined) {
      /** @type {Record<string, boolean>} */
      const now = {};
      all('[data-tick]').forEach((tick) => { if (tick.checked) now[tick.dataset.tick] = true; });
      remember('skerry.ticks.' + data.id, now);
      countTicks();
    }
    if (target.name === 'band') choose({ band: Number(target.value) });
    if (target.id === 'way') choose({ way: Number(target.value) });
    if (target.id === 'trip-file') readTrip(target.files[0]);
    if (/^set-/.test(target.id)) tellSet(target.id.slice(4));
  });
  document.addEventListener('click', (/** @type {any} */ event) => {
    const target = event.target;
    const cell = placeOf(target.closest('td'));
    if (cell) choose(cell);
    const spot = target.closest('.spot');
    if (spot) {
      const site = data.ways[state.way].site;
      choose({ way: data.ways.findIndex((/** @type {any} */ w) => w.site === site && w.target === Number(spot.dataset.target)) });
    }
    const save = target.closest('.save');
    if (save) savePicture(save.closest('figure'));
    const hour = target.closest('[data-hour].stepper');
    if (hour) choose({ hour: (state.hour + Number(hour.dataset.hour) + 24) % 24 });
    const set = target.closest('[data-set]');
    if (set) stepSet(set.dataset.set, Number(set.dataset.by));
  });
  document.addEventListener('keydown', (/** @type {any} */ event) => {
    const td = event.target.closest('.cell, .strip td');
    const next = td && placeOf(td) && neighbour(td, event.key);
    if (!next) return;
    event.preventDefault();
    const place = placeOf(next);
    if (place) choose(place);
    next.focus();
  });
  $('hour').addEventListener('input', () => choose({ hour: Number($('hour').value) }, true));
  $('hour').addEventListener('change', () => choose({ hour: Number($('hour').value) }));
  $('controls').addEventListener('submit', (/** @type {Event} */ event) => event.preventDefault());
  $('steppers').addEventListener('submit', (/** @type {Event} */ event) => event.preventDefault());
  $('play').addEventListener('click', () => play(playing === undefined));
  // A strip opens at the hours on the air.
  document.addEventListener('toggle', (/** @type {any} */ event) => {
    const scroll = event.target.matches('.region[open]') && event.target.querySelector('.scroll');
    const on = scroll && scroll.querySelector('.utc .on');
    if (on) scroll.scrollLeft = on.offsetLeft - 90;
  }, true);
  /** @param {boolean} on */
  const cardOnly = (on) => {
    document.body.classList.toggle('cardonly', on);
    $('card-button').setAttribute('aria-pressed', String(on));
  };
  $('card-button').addEventListener('click', () => cardOnly(!document.body.classList.contains('cardonly')));
  $('card-back').addEventListener('click', () => cardOnly(false));
  $('print-button').addEventListener('click', () => window.print());
  $('undo-button').addEventListener('click', () => {
    const last = former.pop();
    if (!last) return;
    change = last;
    writeFragment();
    showSet();
    work();
  });
  $('cancel-button').addEventListener('click', () => {
    engine.stop();
    opened = false;
    busy(false);
  });
  $('trip-run').addEventListener('click', () => openTrip(true));
  $('trip-save').addEventListener('click', async () => {
    const reply = opened ? await engine.ask({ do: 'save' }) : { trip: $('trip-text').value };
    if (failed(reply)) return;
    const text = reply.trip === undefined ? $('trip-text').value : reply.trip;
    $('trip-text').value = text;
    download('trip.toml', text, 'text/plain');
  });
  ['keyup', 'click', 'focus'].forEach((name) => $('trip-text').addEventListener(name, helpField));
  ['dragover', 'drop'].forEach((name) => document.addEventListener(name, (/** @type {any} */ event) => {
    if (!engine.able || !event.dataTransfer || !event.dataTransfer.types.includes('Files')) return;
    event.preventDefault();
    if (name === 'drop') readTrip(event.dataTransfer.files[0]);
  }));
  // A trip's text may be pasted anywhere; where one types, pasting is what it always is.
  document.addEventListener('paste', (/** @type {any} */ event) => {
    if (!engine.able || !event.clipboardData || event.target.closest('textarea,input')) return;
    const text = event.clipboardData.getData('text/plain');
    if (event.clipboardData.files.length) readTrip(event.clipboardData.files[0]);
    else if (/^\s*\[trip\]/m.test(text) && text.length <= 1e6) takeTrip(text);
    else return;
    event.preventDefault();
  });
  window.addEventListener('hashchange', () => {
    const asked = readFragment();
    draw();
    if (!engine.able || JSON.stringify(asked) === JSON.stringify(change)) return;
    former.push(change);
    change = asked;
    showSet();
    work();
  });
};

document.body.classList.add('live');
document.body.classList.toggle('able', engine.able);
$('change').hidden = !engine.able;
$('explore').hidden = data.ways.length === 0;
showSet();
dressFigures();
dressBeam();
wireBeam();
wire();
const wanted = readFragment();
draw();
if (engine.able && (wanted.limit_g || wanted.must_go.length || wanted.not_mine.length || Object.keys(wanted.set).length)) {
  change = wanted;
  showSet();
  work();
}
// Only a page that somebody hosts has this link; it then works without network too.
if (document.querySelector('link[rel=manifest]') && 'serviceWorker' in navigator)
  navigator.serviceWorker.register('worker.js').catch(() => { /* it stays a page */ });
