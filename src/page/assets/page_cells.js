// @ts-check
// One hour, band and region: the section, the map, the ledger and the tables follow the choice.

/** @param {number} deg */
const light = (deg) => (deg > 1 ? '\u25cb ' + data.texts.day : deg >= -9 ? '\u25d0 ' + data.texts.grey : '\u25cf ' + data.texts.night);

/** @param {Cell} cell */
const sentence = (cell) => {
  const way = data.ways[state.way];
  const band = data.bands[state.band];
  const values = [band.id, two(state.hour), data.sites[way.site].name, data.targets[way.target].name];
  const muf = way.muf_mhz[state.hour];
  if (cell.no_setup === 1) return fill(data.texts.no_setup, ...values);
  if (cell.open !== 1) return fill(data.texts.closed, ...values, muf.toFixed(1)) + (band.mhz > muf ? data.texts.below : data.texts.weak);
  values.push(Math.round(cell.days_both));
  if (!cell.hops) return fill(data.texts.faint, ...values);
  return fill(data.texts.open, ...values, cell.hops === 1 ? data.texts.hop : fill(data.texts.hops, cell.hops), data.texts.layers[cell.layer],
    cell.way === 1 ? data.texts.long : '', Math.round(cell.elevation_deg), cell.equal_hops === 1 ? data.texts.equal : '') +
    (cell.es_days >= 0.5 ? fill(data.texts.es, Math.round(cell.es_days)) : '') +
    (cell.skip_km > 0 ? fill(data.texts.skip, cell.skip_km) : cell.skip_km === 0 ? data.texts.no_skip : data.texts.end);
};

/** @param {Cell} cell */
const drawSection = (cell) => {
  const svg = document.querySelector('#hops svg');
  if (!svg) return;
  const way = data.ways[state.way];
  const frame = way.frames[cell.open === 1 && cell.way === 1 ? 1 : 0];
  /** @param {string} name @returns {any} */
  const group = (name) => svg.querySelector(name);
  group('.base').innerHTML = frame.base;
  group('.hours').innerHTML = frame.hours[state.hour];
  const drawn = cell.hops > 0;
  const y = drawn ? 268 - frame.up * cell.mirror_km : 0;
  group('.ray').setAttribute('d', drawn ? data.ray_start + cell.hop.repeat(cell.hops) : '');
  group('.mirror').setAttribute('d', drawn ? 'M30 ' + y.toFixed(1) + 'H' + frame.end : '');
  group('.skipzone').setAttribute('d', cell.skip_x > 0 ? 'M30 275H' + cell.skip_x : '');
  group('.mirrorname').textContent = drawn ? fill(data.texts.mirror, data.texts.layers[cell.layer], cell.mirror_km) : '';
  group('.mirrorname').setAttribute('y', (y - 7).toFixed(0));
  group('.mirrorname').setAttribute('x', ((30 + frame.end) / 2).toFixed(0));
  group('.lobe').setAttribute('d', cell.setup === undefined ? '' : frame.lobes[cell.setup + '-' + state.band] || '');
  group('.heaven').setAttribute('d', group('.heaven').getAttribute('d').replace(/H[\d.]+(v)/, 'H' + frame.end + '$1'));
  const said = sentence(cell);
  svg.setAttribute('aria-label', said);
  $('hop-text').textContent = said;
  $('hop-note').textContent = drawn ? frame.note : '';
};

/** @param {Cell} cell */
const drawMap = (cell) => {
  const way = data.ways[state.way];
  /** @type {string[]} */
  const works = [];
  all('.map').forEach((map) => {
    const index = Number(map.dataset.map);
    map.hidden = index !== data.sites[way.site].map;
    if (map.hidden) return;
    map.querySelector('.night').setAttribute('d', data.nights[index][state.hour]);
    map.querySelector('.deepnight').setAttribute('d', data.darks[index][state.hour]);
    const bounce = cell.hops > 0 ? way.bounces[(cell.way === 1 ? '1-' : '0-') + cell.hops] : '';
    map.querySelector('.bounce').setAttribute('d', bounce || '');
  });
  data.ways.forEach((/** @type {any} */ other, /** @type {number} */ index) => {
    if (other.site !== way.site) return;
    const c = cellAt(index, state.hour, state.band);
    const days = c.open === 1 ? Math.round(c.days_both) : 0;
    const on = other.target === way.target;
    if (c.open === 1 && c.days_both >= data.want_days) works.push(data.targets[other.target].name);
    all('.spot[data-target="' + other.target + '"]').forEach((spot) => {
      spot.setAttribute('class', 'spot' + (days > 0 ? ' d' + days : '') + (on ? ' on' : ''));
    });
    all('.way[data-target="' + other.target + '"]').forEach((line) => {
      line.classList.toggle('on', on);
      line.querySelector('.short').classList.toggle('used', on && cell.open === 1 && cell.way !== 1);
      line.querySelector('.long').classList.toggle('used', on && cell.open === 1 && cell.way === 1);
    });
  });
  $('reach-line').textContent = fill(data.texts.works, data.bands[state.band].id, works.length ? works.join(', ') : data.texts.none);
};

/** @param {Cell} cell */
const drawLedger = (cell) => {
  const box = $('ledger');
  box.textContent = '';
  if (cell.there_snr_db === undefined) {
    box.appendChild(html('p', data.texts.no_ledger));
    return;
  }
  const table = html('table');
  const caption = table.createCaption();
  caption.append(html('bdi', data.setups[String(cell.setup)]), ' \u2192 ', html('bdi', data.targets[data.ways[state.way].target].people[cell.person]),
    ', ' + data.modes[cell.mode].name);
  const top = table.createTHead().insertRow();
  ['dB', data.texts.there, data.texts.back].forEach((text) => {
    const th = html('th', text);
    th.scope = 'col';
    top.appendChild(th);
  });
  const body = table.createTBody();
  data.ledger.forEach((/** @type {string[]} */ [text, ofLong, there, back, kind]) => {
    const show = { level: minus, ratio: signed, gain: signed, loss: (/** @type {number} */ n) => signed(-n), days: minus }[kind.split(' ')[0]];
    if (!show) return;
    if (/^(loss|gain)/.test(kind) && Math.abs(cell[there]) < 0.05 && Math.abs(cell[back]) < 0.05) return;
    const row = body.insertRow();
    row.className = kind.endsWith('sum') ? 'sum' : '';
    const th = html('th', fill(ofLong && cell.long_method === 1 ? ofLong : text, data.modes[cell.mode].bandwidth_hz));
    th.scope = 'row';
    row.append(th, html('td', show(cell[there])), html('td', show(cell[back])));
  });
  box.appendChild(table);
};

/** The chosen cell in every table, and one cell of each that the Tab key finds. */
const markTables = () => {
  all('.strip').forEach((table) => {
    const own = Number(table.dataset.way) === state.way;
    const row = table.querySelector('tr[data-band="' + state.band + '"]') || table.querySelector('tr[data-band]');
    all('td[tabindex]', table).forEach((td) => { td.removeAttribute('tabindex'); td.removeAttribute('aria-selected'); });
    if (!row) return;
    const td = row.children[state.hour + 1];
    td.setAttribute('tabindex', '0');
    // The keyboard scrolls by the cell from now on: one stop a table.
    const box = table.closest('.scroll');
    if (box) box.removeAttribute('tabindex');
    if (own && Number(row.dataset.band) === state.band) td.setAttribute('aria-selected', 'true');
  });
  const cells = all('.regions .cell');
  const chosen = cells.find((td) => Number(td.dataset.way) === state.way && Number(td.dataset.hour) === state.hour);
  cells.forEach((td) => {
    td.tabIndex = td === (chosen || cells[0]) ? 0 : -1;
    td.toggleAttribute('aria-selected', false);
    if (td === chosen && Number(td.dataset.band) === state.band) td.setAttribute('aria-selected', 'true');
  });
};

const draw = () => {
  if (!data.ways.length) return;
  const way = data.ways[state.way];
  const cell = cellAt(state.way, state.hour, state.band);
  const site = data.sites[way.site];
  $('hour').value = state.hour;
  $('way').value = state.way;
  all('input[name=band]').forEach((radio) => { radio.checked = Number(radio.value) === state.band; });
  const there = (state.hour * 60 + way.far_offset_min + 2880) % 1440;
  const said = two(state.hour) + ' UTC \u00b7 ' + data.texts.here + ' ' + clock(site.local_minute[state.hour]) + ' ' + light(site.sun_deg[state.hour]) +
    ' \u00b7 ' + data.texts.far + ' ' + clock(there) + ' ' + light(way.far_sun_deg[state.hour]) +
    (site.session_minutes[state.hour] > 0 ? ' \u00b7 ' + data.texts.on_air : '');
  $('clock').textContent = said;
  $('hour').setAttribute('aria-valuetext', said);
  drawMap(cell);
  drawSection(cell);
  drawRays();
  drawLedger(cell);
  markTables();
};

/** @param {Partial<Chosen>} change @param {boolean} [quiet] */
const choose = (change, quiet) => {
  Object.assign(state, change);
  draw();
  if (quiet) return;
  const cell = cellAt(state.way, state.hour, state.band);
  say(two(state.hour) + ' UTC, ' + data.bands[state.band].id + ', ' + data.targets[data.ways[state.way].target].name + ': ' +
    (cell.open === 1 ? Math.round(cell.days_both) + ' of 10 days' : 'closed'));
  writeFragment();
};

/** @param {any} td @returns {Chosen | null} */
const placeOf = (td) => {
  if (!td) return null;
  if (td.dataset.way !== undefined) return { way: Number(td.dataset.way), hour: Number(td.dataset.hour), band: Number(td.dataset.band) };
  const row = td.closest('tr[data-band]');
  const table = td.closest('.strip');
  if (!row || !table) return null;
  return { way: Number(table.dataset.way), band: Number(row.dataset.band), hour: td.cellIndex - 1 };
};

/** From one cell to its neighbour in the same table. @param {any} td @param {string} key @returns {any} */
const neighbour = (td, key) => {
  const rows = all('tr', td.closest('tbody')).map((row) => all(row.matches('[data-band]') ? 'td' : 'td.cell', row)).filter((row) => row.length);
  const r = rows.findIndex((row) => row.includes(td));
  const c = rows[r].indexOf(td);
  const wide = rows[r].length;
  if (key === 'ArrowRight') return rows[r][(c + 1) % wide];
  if (key === 'ArrowLeft') return rows[r][(c + wide - 1) % wide];
  if (key === 'Home') return rows[r][0];
  if (key === 'End') return rows[r][wide - 1];
  if (key === 'ArrowDown') return rows[Math.min(rows.length - 1, r + 1)][c];
  if (key === 'ArrowUp') return rows[Math.max(0, r - 1)][c];
  return key === 'Enter' || key === ' ' ? td : null;
};

/** The hour and, where something was changed, the change: what a link to this page carries. */
const writeFragment = () => {
  const words = ['way=' + state.way, 'hour=' + state.hour, 'band=' + encodeURIComponent(data.bands[state.band].id)].concat(changeWords());
  history.replaceState(null, '', '#' + words.join('&'));
};
