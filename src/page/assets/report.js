'use strict';
(function () {
  const data = JSON.parse(document.getElementById('data').textContent);
  const earthKm = 6371;
  const bands = data.bands.length;
  const $ = (id) => document.getElementById(id);
  const all = (selector, from) => Array.from((from || document).querySelectorAll(selector));

  // A cell as an object.
  const cellAt = (way, hour, band) => {
    const row = data.ways[way].cells[hour * bands + band];
    const cell = {};
    row.forEach((value, i) => { cell[data.cell_keys[i]] = value; });
    return cell;
  };

  const two = (n) => String(n).padStart(2, '0');
  const clock = (minutes) => two(Math.floor(minutes / 60)) + ':' + two(minutes % 60);
  const farMinute = (way, hour) => (hour * 60 + way.far_offset_min + 2880) % 1440;
  const signed = (db) => (db < 0 ? '\u2212' : '+') + Math.abs(db).toFixed(1);
  const plain = (db) => (db < 0 ? '\u2212' : '') + Math.abs(db).toFixed(1);
  const light = (deg) => (deg > 1 ? '\u25cb daylight' : deg >= -9 ? '\u25d0 grey line' : '\u25cf night');

  const make = (name, attributes, text) => {
    const element = document.createElementNS('http://www.w3.org/2000/svg', name);
    Object.keys(attributes || {}).forEach((key) => element.setAttribute(key, attributes[key]));
    if (text !== undefined) element.textContent = text;
    return element;
  };
  const html = (name, text, kind) => {
    const element = document.createElement(name);
    if (text !== undefined) element.textContent = text;
    if (kind) element.className = kind;
    return element;
  };

  // Ticks, remembered on this device.
  const store = 'skerry.ticks.' + data.id;
  const ticks = all('[data-tick]');
  const remembered = () => {
    try { return JSON.parse(localStorage.getItem(store)) || {}; } catch (refused) { return {}; }
  };
  const countTicks = () => {
    $('tick-count').textContent = ticks.filter((t) => t.checked).length + ' of ' + ticks.length + ' packed.';
  };
  const before = remembered();
  ticks.forEach((tick) => {
    tick.checked = before[tick.dataset.tick] === true;
    tick.addEventListener('change', () => {
      const now = {};
      ticks.forEach((t) => { if (t.checked) now[t.dataset.tick] = true; });
      try { localStorage.setItem(store, JSON.stringify(now)); } catch (refused) { /* private window: not remembered */ }
      countTicks();
    });
  });
  countTicks();

  // The card alone, and printing.
  $('card-button').addEventListener('click', () => {
    const on = document.body.classList.toggle('cardonly');
    $('card-button').setAttribute('aria-pressed', String(on));
  });
  $('print-button').addEventListener('click', () => window.print());

  // Any picture as a file: what is shown, with its own style and on its own paper. Made here, sent nowhere.
  all('figure').forEach((figure) => {
    const small = figure.closest('.plots');
    const button = html('button', small ? 'Save' : 'Save picture', 'save screen');
    if (small) button.setAttribute('aria-label', 'Save picture: ' + figure.querySelector('figcaption').textContent.trim());
    button.type = 'button';
    button.addEventListener('click', () => {
      const shown = all('svg', figure).find((svg) => !svg.closest('[hidden]'));
      if (!shown) return;
      const copy = shown.cloneNode(true);
      const box = shown.viewBox.baseVal;
      const said = shown.getAttribute('aria-label');
      copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
      copy.setAttribute('font-family', 'sans-serif');
      // The caption goes along below, broken into lines.
      const letter = box.width / 48;
      const lines = [''];
      figure.querySelector('figcaption').textContent.split(/\s+/).forEach((part) => {
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
      const address = URL.createObjectURL(new Blob([new XMLSerializer().serializeToString(copy)], { type: 'image/svg+xml' }));
      const link = html('a');
      link.href = address;
      link.download = (shown.getAttribute('class') + ' ' + said).toLowerCase().replace(/[^a-z0-9]+/g, '-').slice(0, 60) + '.svg';
      link.click();
      setTimeout(() => URL.revokeObjectURL(address), 10000);
    });
    figure.appendChild(button);
  });

  if (!data.ways.length) {
    $('explore').hidden = true;
    return;
  }

  const state = { way: data.start.way, hour: data.start.hour, band: data.start.band };

  const drawMap = (way, cell) => {
    all('.map').forEach((map) => {
      const index = Number(map.dataset.map);
      map.hidden = index !== data.sites[way.site].map;
      all('.night', map).forEach((night) => night.setAttribute('d', data.nights[index][state.hour]));
    });
    const works = [];
    data.ways.forEach((other, index) => {
      if (other.site !== way.site) return;
      const c = cellAt(index, state.hour, state.band);
      const good = c.open === 1 && c.days_both >= data.want_days;
      if (good) works.push(data.targets[other.target].name);
      all('.spot[data-target="' + other.target + '"]').forEach((spot) => {
        spot.classList.toggle('works', good);
        spot.classList.toggle('on', other.target === way.target);
      });
      all('.way[data-target="' + other.target + '"]').forEach((line) => {
        const on = other.target === way.target;
        line.classList.toggle('on', on);
        all('.short', line)[0].classList.toggle('used', on && cell.open === 1 && cell.way !== 1);
        all('.long', line)[0].classList.toggle('used', on && cell.open === 1 && cell.way === 1);
      });
    });
    $('reach-line').textContent = 'Filled marks: regions that work now on ' + data.bands[state.band].id + ' on ' + data.want_days +
      ' days in ten or more: ' + (works.length ? works.join(', ') : 'none') + '.';
  };

  // The section of the Earth along the way, everything to one scale. The same as hop_svg() of the program, which draws it
  // for files.
  const drawHops = (way, cell) => {
    const box = $('hops');
    box.textContent = '';
    const drawn = cell.open === 1 && cell.hops > 0;
    const km = drawn ? cell.distance_km : way.km;
    const angle = km / earthKm;
    const half = Math.min(angle / 2, Math.PI);
    const width = 720;
    const side = 74;
    const above = 40;
    const below = 62;
    const f2 = !drawn || cell.e_layer === 0;
    const f2Km = drawn ? cell.mirror_km : 300;
    const high = drawn ? Math.max(cell.mirror_km, 320) : 320;
    const wide = half >= Math.PI / 2 ? earthKm + high : (earthKm + high) * Math.sin(half);
    const low = half >= Math.PI ? earthKm + high : -earthKm * Math.cos(half);
    const scale = (width / 2 - side) / wide;
    const tall = above + (low + earthKm + high) * scale + below;
    const deep = Math.min(wide * 0.05 + 20, 300);
    const at = (along, height) => {
      const a = along / earthKm - angle / 2;
      return [width / 2 + (earthKm + height) * Math.sin(a) * scale, above + (earthKm + high - (earthKm + height) * Math.cos(a)) * scale];
    };
    const word = (p) => p[0].toFixed(1) + ' ' + p[1].toFixed(1);
    const arc = (height, from, to) => {
      const steps = Math.max(8, Math.ceil(Math.abs(to - from) / 120));
      let path = '';
      for (let i = 0; i <= steps; ++i) path += (i ? 'L' : 'M') + word(at(from + (to - from) * i / steps, height));
      return path;
    };
    const svg = make('svg', { class: 'hop', viewBox: '0 0 ' + width + ' ' + tall.toFixed(1), role: 'img' });
    const path = (kind, d, more) => svg.appendChild(make('path', Object.assign({ class: kind, d: d }, more)));
    const name = (x, y, anchor, text, kind) => svg.appendChild(make('text', Object.assign({ x: x.toFixed(1), y: y.toFixed(1), 'text-anchor': anchor },
      kind ? { class: kind } : {}), text));
    path('earth', arc(0, 0, km) + (km < 2 * Math.PI * earthKm - 1 ? arc(-deep, km, 0).replace('M', 'L') + 'Z' : ''));
    path('layer d', arc(75, 0, km));
    path('layer e', arc(110, 0, km));
    if (f2) path('layer', arc(f2Km, 0, km));
    if (cell.skip_km > 0) path('skipzone', arc(0, 0, Math.min(km, cell.skip_km)), { 'data-skip': cell.skip_km });
    const here = at(0, 0);
    const there = at(km, 0);
    if (drawn) {
      let ray = '';
      const hop = km / cell.hops;
      for (let i = 0; i <= 2 * cell.hops; ++i) ray += (i ? 'L' : 'M') + word(at(i * hop / 2, i % 2 ? cell.mirror_km : 0));
      path('level', 'M' + word(here) + 'L' + word([here[0] + 90 * Math.cos(angle / 2), here[1] - 90 * Math.sin(angle / 2)]));
      path('ray', ray, { 'data-hops': cell.hops });
      name(here[0] - 8, here[1] - 4, 'end', cell.elevation_deg.toFixed(1) + '\u00b0');
    }
    const apart = Math.max(0, 60 - (there[0] - here[0]) / 2);
    name(here[0] - apart, tall - 36, 'middle', 'here');
    name(there[0] + apart, tall - 36, 'middle', 'there');
    name(width / 2, at(km / 2, f2 ? f2Km : 110)[1] - 10, 'middle',
      drawn ? ['F2', 'E', 'Es'][cell.e_layer] + ' mirror at ' + cell.mirror_km + ' km' : 'F2 layer, about 300 km');
    name(width / 2, tall - 10, 'middle', 'dots: D layer 75 km; short dashes: E layer 110 km' + (f2 ? '; long dashes: F2' : ''), 'key');
    const said = hopText(way, cell, drawn);
    svg.setAttribute('aria-label', said);
    box.appendChild(svg);
    $('hop-text').textContent = said;
  };

  const hopText = (way, cell, drawn) => {
    const band = data.bands[state.band];
    const from = data.sites[way.site].name;
    const to = data.targets[way.target].name;
    const head = band.id + ' at ' + two(state.hour) + ' UTC, ' + from + ' to ' + to + ': ';
    let text;
    if (cell.no_setup === 1) text = 'nothing in the kit works this band here.';
    else if (!drawn && cell.open === 1) text = 'open on ' + cell.days_both.toFixed(1) + ' days in ten; too weak to be taken apart here.';
    else if (!drawn) {
      text = 'closed. The highest usable frequency of the way is ' + way.muf_mhz[state.hour].toFixed(1) + ' MHz' +
        (band.mhz > way.muf_mhz[state.hour] ? ', below the band.' : ', but what arrives is too weak.');
    } else {
      text = cell.hops + (cell.hops === 1 ? ' hop' : ' hops') + ' off the ' + ['F2', 'E', 'Es'][cell.e_layer] + ' layer, ' +
        (cell.way === 1 ? 'long' : 'short') + ' way round, leaving ' + cell.elevation_deg.toFixed(1) + '\u00b0 above the horizon' +
        (cell.long_method === 1 ? ' (equal hops drawn for the whole long path)' : '') + '; ' + cell.days_both.toFixed(1) + ' days in ten both ways' +
        (cell.es_days >= 0.5 ? ', by sporadic E alone ' + cell.es_days.toFixed(1) : '') + '.';
    }
    const skip = cell.skip_km > 0 ? ' Skip zone (ticked ground): nothing comes down nearer than ' + cell.skip_km + ' km.' :
      cell.skip_km === 0 ? ' No skip zone on this band now.' : ' Nothing comes down within 4000 km on half of the days.';
    return head + text + skip;
  };

  const drawLedger = (way, cell) => {
    const box = $('ledger');
    box.textContent = '';
    if (cell.open !== 1 || cell.there_snr_db === undefined) {
      box.appendChild(html('p', cell.open === 1 ? 'Too weak to list: ' + cell.days_both.toFixed(1) + ' days in ten.' : 'No ledger: the band is closed here at this hour, or nothing in the kit works it.'));
      return;
    }
    const table = html('table');
    const caption = html('caption');
    caption.appendChild(html('bdi', data.setups[String(cell.setup)]));
    caption.appendChild(document.createTextNode(' to '));
    caption.appendChild(html('bdi', data.targets[way.target].people[cell.person]));
    caption.appendChild(document.createTextNode(', ' + data.modes[cell.mode].name));
    table.appendChild(caption);
    const head = html('thead');
    const top = html('tr');
    ['dB', 'they hear you', 'you hear them'].forEach((text) => {
      const th = html('th', text);
      th.scope = 'col';
      top.appendChild(th);
    });
    head.appendChild(top);
    table.appendChild(head);
    const body = html('tbody');
    const row = (name, there, back, kind) => {
      const tr = html('tr', undefined, kind);
      const th = html('th', name);
      th.scope = 'row';
      tr.appendChild(th);
      tr.appendChild(html('td', there));
      tr.appendChild(html('td', back));
      body.appendChild(tr);
    };
    const both = (key, show) => [show(cell['there_' + key]), show(cell['back_' + key])];
    const loss = (name, key) => { if (cell[key] !== 0) row(name, signed(-cell[key]), signed(-cell[key])); };
    row('power sent, dBW', ...both('power_dbw', plain));
    row('gain of the sending antenna', ...both('from_dbi', signed));
    row('gain of the receiving antenna', ...both('to_dbi', signed));
    loss('distance (free space)', 'free_space_db');
    loss(cell.long_method === 1 ? 'between the two limit frequencies' : 'absorption in the D layer', 'absorption_db');
    loss('above the usable frequency', 'above_muf_db');
    loss('bounces off the ground', 'ground_db');
    loss('through the E layer below', 'screening_db');
    loss('auroral zone', 'auroral_db');
    loss('what the method adds', 'other_db');
    if (cell.focusing_db !== 0) row('focusing towards the antipode', signed(cell.focusing_db), signed(cell.focusing_db));
    if (Math.abs(cell.there_rest_db) >= 0.05 || Math.abs(cell.back_rest_db) >= 0.05) row('other modes, blended', ...both('rest_db', signed));
    row('arrives, dBW', ...both('received_dbw', plain), 'sum');
    row('noise in ' + data.modes[cell.mode].bandwidth_hz + ' Hz, dBW', ...both('noise_dbw', plain));
    row('signal over noise', ...both('snr_db', signed), 'sum');
    row('needed', ...both('required_db', signed));
    row('margin', ...both('margin_db', signed), 'sum');
    row('days in ten', ...both('days', (n) => n.toFixed(1)), 'sum');
    table.appendChild(body);
    box.appendChild(table);
  };

  let focusCell = false;
  const drawStrips = () => {
    all('td[aria-selected=true]').forEach((td) => {
      td.setAttribute('aria-selected', 'false');
    });
    all('.strip').forEach((table) => {
      const row = table.querySelector('tr[data-band="' + state.band + '"]') || table.querySelector('tr[data-band]');
      all('td[tabindex="0"]', table).forEach((td) => td.setAttribute('tabindex', '-1'));
      if (!row) return;
      const td = row.children[state.hour + 1];
      td.setAttribute('tabindex', '0');
      if (Number(table.dataset.way) === state.way && Number(row.dataset.band) === state.band) {
        td.setAttribute('aria-selected', 'true');
        if (focusCell) td.focus();
      }
    });
    focusCell = false;
  };

  const draw = () => {
    const way = data.ways[state.way];
    const cell = cellAt(state.way, state.hour, state.band);
    const site = data.sites[way.site];
    $('hour').value = state.hour;
    $('way').value = state.way;
    all('input[name=band]').forEach((radio) => { radio.checked = Number(radio.value) === state.band; });
    const said = two(state.hour) + ' UTC \u00b7 here ' + clock(site.local_minute[state.hour]) + ' ' + light(site.sun_deg[state.hour]) +
      ' \u00b7 there ' + clock(farMinute(way, state.hour)) + ' ' + light(way.far_sun_deg[state.hour]) +
      (site.session_minutes[state.hour] > 0 ? ' \u00b7 on\u00a0air' : '');
    $('clock').textContent = said;
    $('hour').setAttribute('aria-valuetext', said);
    drawMap(way, cell);
    drawHops(way, cell);
    drawLedger(way, cell);
    drawStrips();
  };

  const choose = (change) => {
    Object.assign(state, change);
    draw();
  };
  $('controls').addEventListener('submit', (event) => event.preventDefault());
  $('hour').addEventListener('input', () => choose({ hour: Number($('hour').value) }));
  $('way').addEventListener('change', () => choose({ way: Number($('way').value) }));
  all('input[name=band]').forEach((radio) => radio.addEventListener('change', () => choose({ band: Number(radio.value) })));

  const placeOf = (td) => {
    const row = td && td.parentElement;
    if (!row || row.dataset.band === undefined || td.tagName !== 'TD') return null;
    return { way: Number(row.closest('table').dataset.way), band: Number(row.dataset.band), hour: td.cellIndex - 1 };
  };
  all('.strip').forEach((table) => {
    table.addEventListener('click', (event) => {
      const place = placeOf(event.target.closest('td'));
      if (place) choose(place);
    });
    table.addEventListener('keydown', (event) => {
      const td = event.target.closest('td');
      const place = placeOf(td);
      if (!place) return;
      const rows = all('tr[data-band]', table);
      let index = rows.indexOf(td.parentElement);
      if (event.key === 'ArrowRight') place.hour = (place.hour + 1) % 24;
      else if (event.key === 'ArrowLeft') place.hour = (place.hour + 23) % 24;
      else if (event.key === 'ArrowDown') index = Math.min(rows.length - 1, index + 1);
      else if (event.key === 'ArrowUp') index = Math.max(0, index - 1);
      else if (event.key === 'Home') place.hour = 0;
      else if (event.key === 'End') place.hour = 23;
      else if (event.key !== 'Enter' && event.key !== ' ') return;
      event.preventDefault();
      place.band = Number(rows[index].dataset.band);
      focusCell = true;
      choose(place);
    });
  });
  draw();
})();
