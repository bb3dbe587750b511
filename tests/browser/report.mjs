// Opens reports in headless Chromium from file:// with the network off and checks what a reader would.
// Usage: node report.mjs SKERRY OUTPUT_DIR TRIP...     environment: CHROMIUM, PICTURES (folder for screenshots)
// Exit code: 0 all checks hold, 1 some do not, 77 something to test with is missing (ctest counts it as skipped; where CI is set
// it is 1: nobody would read there that the test was left out).
// Size of the file, widths, pages and silence: the promises of the report itself. Accessibility: axe-core's rules for WCAG 2.2
// A and AA and its best practices: any finding fails.
import { cellOf, check, context, contradictions, equal, finish, open, runAxe } from './tools.mjs';
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';

const [program, output, ...trips] = process.argv.slice(2);
if (!program || !output || !trips.length) {
  console.error('usage: node report.mjs SKERRY OUTPUT_DIR TRIP...');
  process.exit(2);
}

mkdirSync(output, { recursive: true });
const pictures = process.env.PICTURES;
if (pictures) mkdirSync(pictures, { recursive: true });

const number = (text) => Number(text.replace('\u2212', '-'));
const pagesOf = (pdf) => (pdf.toString('latin1').match(/\/Type\s*\/Page(?![a-zA-Z])/g) || []).length;

// What the page shows for the chosen cell must be what its data say.
const compare = async (page, data, way, hour, band, where) => {
  const cell = cellOf(data, way, hour, band);
  const shown = await page.evaluate(() => ({
    clock: document.getElementById('clock').textContent,
    night: document.querySelector('.map:not([hidden]) .night').getAttribute('d'),
    map: Number(document.querySelector('.map:not([hidden])').dataset.map),
    maps: document.querySelectorAll('.map:not([hidden])').length,
    ray: document.querySelector('#hops .ray').getAttribute('d'),
    skip: document.querySelector('#hops .skipzone').getAttribute('d'),
    text: document.getElementById('hop-text').textContent,
    status: document.getElementById('status').textContent,
    ledger: Array.from(document.querySelectorAll('#ledger tbody tr')).map((tr) => Array.from(tr.children).map((c) => c.textContent)),
    used: document.querySelectorAll('.way .used').length,
    days: Array.from(document.querySelectorAll('.map:not([hidden]) .spot')).map((s) => (/ d(\d+)/.exec(' ' + s.getAttribute('class')) || [0, 0])[1]).map(Number),
    selected: Array.from(document.querySelectorAll('.strip td[aria-selected=true]')).map((td) => [
      Number(td.closest('table').dataset.way), td.cellIndex - 1, Number(td.parentElement.dataset.band), td.textContent]),
  }));
  const at = where + ' way ' + way + ' ' + hour + ' UTC ' + data.bands[band].id;
  const site = data.sites[data.ways[way].site];
  equal(shown.clock.slice(0, 6), String(hour).padStart(2, '0') + ' UTC', at + ': clock');
  equal(shown.maps, 1, at + ': one map');
  equal(shown.map, site.map, at + ': the map of the site');
  equal(shown.night, data.nights[site.map][hour], at + ': night of the hour');
  check(shown.status.length <= 120, at + ': a short status');
  const days = data.ways.flatMap((w, i) => {
    const c = cellOf(data, i, hour, band);
    return w.site === data.ways[way].site ? [c.open === 1 ? Math.round(c.days_both) : 0] : [];
  });
  equal(JSON.stringify(shown.days), JSON.stringify(days), at + ': marks on the map');
  if (cell.no_setup !== 1) {
    equal(shown.selected.length, 1, at + ': one cell chosen');
    const sign = cell.open !== 1 ? '.' : cell.days_both < 0.5 ? '-' : String(Math.round(cell.days_both));
    equal(JSON.stringify(shown.selected[0]), JSON.stringify([way, hour, band, sign]), at + ': the chosen cell');
  }
  if (cell.hops > 0) {
    equal((shown.ray.match(/q/g) || []).length, 2 * cell.hops, at + ': hops drawn');
    equal(shown.skip !== '', cell.skip_km > 0, at + ': skip zone');
    equal(shown.used, 1, at + ': one way round is used');
    check(shown.text.includes(cell.hops + (cell.hops === 1 ? ' hop ' : ' hops ')), at + ': told as drawn: ' + shown.text);
  } else {
    equal(shown.ray, '', at + ': no ray where there is none');
  }
  if (cell.there_snr_db !== undefined) {
    const row = (name) => shown.ledger.find((r) => r[0].startsWith(name)).slice(1).map(number);
    const first = shown.ledger.findIndex((r) => r[0].startsWith('arrives'));
    for (const side of [0, 1]) {
      const key = ['there_', 'back_'][side];
      const sum = shown.ledger.slice(0, first).reduce((s, r) => s + number(r[1 + side]), 0);
      // Up to ten lines, each rounded to a tenth.
      check(Math.abs(sum - row('arrives')[side]) <= 0.56, at + ': the ledger adds up: ' + sum + ' against ' + row('arrives')[side]);
      check(Math.abs(row('signal over')[side] - cell[key + 'snr_db']) < 0.051, at + ': ratio in the ledger');
      check(Math.abs(row('margin')[side] - (row('signal over')[side] - row('needed')[side])) <= 0.16, at + ': margin in the ledger');
    }
    check(Math.abs(Math.min(...row('days in ten')) - cell.days_both) <= 0.06, at + ': days of the worse direction');
  } else {
    equal(shown.ledger.length, 0, at + ': no ledger where there is none');
  }
};

for (const trip of trips) {
  const name = path.basename(trip, '.toml');
  const file = path.resolve(output, name + '.html');
  const folder = path.resolve(output, name + '-pictures');
  rmSync(folder, { recursive: true, force: true });
  execFileSync(program, ['report', trip, '-o', file, '--pictures', folder], { stdio: 'inherit' });
  const size = statSync(file).size;
  console.log(name + ': ' + size + ' bytes');
  const engine = /id="engine">([^<]*)</.exec(readFileSync(file, 'utf8'))[1].length;
  const carries = engine > 0;
  if (carries) {
    console.log(name + ': the engine in it, compressed: ' + engine * 4 / 5 + ' bytes');
    check(engine * 4 / 5 <= 2 * 1024 * 1024, name + ': the engine in at most 2 MB');
  }
  check(size <= (carries ? 4e6 : 1.5e6), name + ': at most 1.5 MB, 4 with the engine, found ' + size);

  // Wide.
  const desk = await context({ viewport: { width: 1280, height: 900 } });
  const { page, noise } = await open(desk, file);
  const data = JSON.parse(await page.locator('#data').textContent());
  await compare(page, data, data.start.way, data.start.hour, data.start.band, name + ' at start');
  for (const hour of [0, 5, 11, 17, 23]) {
    await page.locator('#hour').fill(String(hour));
    await compare(page, data, data.start.way, hour, data.start.band, name + ' slider');
  }
  const hour = 23;
  for (let band = 0; band < data.bands.length; ++band) {
    await page.locator('.bands label').nth(band).click();
    await compare(page, data, data.start.way, hour, band, name + ' band');
  }
  for (let way = 0; way < data.ways.length; ++way) {
    await page.locator('#way').selectOption(String(way));
    await compare(page, data, way, hour, data.bands.length - 1, name + ' region');
  }
  const { drawn, wrong } = contradictions(data);
  check(drawn > 0 && wrong.length === 0, name + ': ' + wrong.length + ' of ' + drawn + ' drawn cells contradict themselves: ' +
    JSON.stringify(wrong.slice(0, 3)));
  console.log(name + ': ' + drawn + ' drawn cells, ' + wrong.length + ' contradict themselves');
  await readWords(page, data, name);
  await savePictures(page, name);

  // A cell by mouse, then its neighbours by keyboard.
  await page.evaluate(() => { document.querySelectorAll('.region').forEach((d) => { d.open = true; }); });
  const table = page.locator('.strip').first();
  const row = table.locator('tr[data-band]').first();
  const firstBand = Number(await row.getAttribute('data-band'));
  const firstWay = Number(await table.getAttribute('data-way'));
  await row.locator('td').nth(9).click();
  await compare(page, data, firstWay, 9, firstBand, name + ' click');
  await row.locator('td').nth(9).focus();
  await page.keyboard.press('ArrowRight');
  await compare(page, data, firstWay, 10, firstBand, name + ' right');
  await page.keyboard.press('End');
  await page.keyboard.press('ArrowRight');
  await compare(page, data, firstWay, 0, firstBand, name + ' round midnight');

  // The table of all regions: a cell by mouse, its neighbours by keyboard; the best band of each.
  const cells = page.locator('.regions .cell');
  const places = await cells.evaluateAll((all) => all.map((td) => [Number(td.dataset.way), Number(td.dataset.hour), Number(td.dataset.band), td.querySelector('b').textContent]));
  check(places.length > 0, name + ': a table of all regions');
  for (const [way, at, band, sign] of places) {
    const days = data.bands.map((b, i) => { const c = cellOf(data, way, at, i); return c.open === 1 ? c.days_both : -1; });
    const best = Math.max(...days);
    const wanted = Math.abs(best - 0.5) < 0.006 ? sign : best >= 0.5 ? String(Math.round(best)) : best < 0 ? '\u00b7' : '-';
    check(sign === wanted && (best < 0 || days[band] === best || Math.abs(days[band] - best) < 0.011), name + ': the best band of way ' + way + ' at ' + at + ' UTC: ' + sign + ', ' + wanted);
  }
  await cells.first().click();
  await compare(page, data, places[0][0], places[0][1], places[0][2], name + ' table');
  await page.keyboard.press('ArrowRight');
  await compare(page, data, places[1][0], places[1][1], places[1][2], name + ' table, right');
  equal(await page.evaluate(() => document.querySelectorAll('.regions .cell[tabindex="0"]').length), 1, name + ': one stop of the Tab key in the table');

  // The beam by keyboard: one stop of the Tab key, arrows from thing to thing.
  const picks = page.locator('.pick[data-thing]');
  await picks.first().click();
  equal(await page.evaluate(() => document.querySelectorAll('.pick[tabindex="0"]').length), 1, name + ': one stop of the Tab key on the beam');
  await page.keyboard.press('ArrowRight');
  check(await picks.nth(1).evaluate((p) => p.classList.contains('chosen') && document.activeElement === p), name + ': from thing to thing');
  check((await page.locator('#thing-name').textContent()).length > 3 && (await page.locator('#thing-why').textContent()).length > 3, name + ': the thing is told');
  equal(await page.locator('.beam.wide .thing').count(), await picks.count(), name + ': a block for each thing');

  // Any part by at most 40 stops of the Tab key: the contents, then the part itself.
  const stops = await page.evaluate(() => {
    const all = Array.from(document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex="0"]'))
      .filter((e) => e.tabIndex >= 0 && !e.disabled && e.checkVisibility({ visibilityProperty: true }) && (e.type !== 'radio' || e.checked));
    const links = Array.from(document.querySelectorAll('.contents a')).filter((a) => a.checkVisibility());
    return links.map((link) => {
      const part = document.querySelector(link.getAttribute('href'));
      return [part.id, all.indexOf(link) + 1 + all.filter((e) => part.contains(e)).length];
    });
  });
  check(stops.length > 8 && stops.every(([, n]) => n <= 40), name + ': any part by at most 40 stops of the Tab key: ' + stops.join(' '));

  // No name runs over its block.
  const over = await page.evaluate(() => Array.from(document.querySelectorAll('.beam .thing')).filter((g) => g.getClientRects().length).flatMap((g) => {
    const room = g.querySelector('rect').getBoundingClientRect();
    return Array.from(g.querySelectorAll('text')).filter((t) => t.getBoundingClientRect().right > room.right + 0.5).map((t) => t.textContent);
  }));
  equal(over.join(), '', name + ': names stay in their blocks');

  // What `pack` prints stands on the page.
  const body = await page.evaluate(() => document.body.textContent);
  for (const words of ['in practice', 'Bags', 'Other kits', 'If things are otherwise', 'What each band and antenna is worth', 'What stays at home'])
    check(body.includes(words), name + ': says "' + words + '"');

  // Ticks outlive a reload.
  const ticks = page.locator('[data-tick]');
  const count = await ticks.count();
  check(count > 0, name + ': a packing list to tick');
  await ticks.first().check();
  await page.reload();
  check(await ticks.first().isChecked(), name + ': the tick is remembered');
  if (count > 1) check(!(await ticks.nth(1).isChecked()), name + ': the other is not');
  equal(await page.locator('#tick-count').textContent(), '1 of ' + count + ' packed.', name + ': ticks counted');
  await ticks.first().uncheck();

  for (const scheme of ['light', 'dark']) {
    for (const width of [360, 768, 1280]) {
      const narrow = await context({ viewport: { width, height: 800 }, colorScheme: scheme });
      const { page: p, noise: said } = await open(narrow, file);
      const over = await p.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      equal(over, 0, name + ' ' + width + ' px: sideways overflow');
      if (pictures && name === path.basename(trips[0], '.toml') && (scheme === 'light' || width === 1280)) {
        await p.screenshot({ path: path.join(pictures, 'report-' + width + '-' + scheme + '.png') });
        if (width === 1280 && scheme === 'dark') {
          await p.evaluate(() => document.getElementById('hours').scrollIntoView());
          await p.screenshot({ path: path.join(pictures, 'regions-1280-dark.png') });
        } else {
          await p.evaluate(() => document.getElementById('explore').scrollIntoView());
          await p.screenshot({ path: path.join(pictures, 'hours-' + width + '-' + scheme + '.png') });
        }
        if (scheme === 'light') {
          await p.evaluate(() => { document.querySelector('details.region').open = true; document.getElementById('strips-title').scrollIntoView(); });
          await p.screenshot({ path: path.join(pictures, 'strips-' + width + '-' + scheme + '.png') });
          await p.evaluate(() => document.getElementById('antenna-title').scrollIntoView());
          await p.screenshot({ path: path.join(pictures, 'plots-' + width + '-' + scheme + '.png') });
        }
      }
      if (width === 360) await smallScreen(p, name);
      if (pictures && name === path.basename(trips[0], '.toml') && scheme === 'light' && width === 1280) {
        await p.evaluate(() => document.getElementById('words-title').scrollIntoView());
        await p.screenshot({ path: path.join(pictures, 'words-1280-light.png') });
      }
      await p.evaluate(() => { document.querySelectorAll('details').forEach((d) => { d.open = true; }); });
      equal(await p.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0,
        name + ' ' + width + ' px, all unfolded: sideways overflow');
      // The checker runs in the page's isolated world through the debugger, so that the page's policy stays in force.
      const result = await runAxe(p);
      for (const violation of result) {
        check(false, name + ' ' + width + ' ' + scheme + ': ' + violation.id + ': ' + violation.help + ' at ' +
          violation.nodes.slice(0, 3).map((n) => n.target.join(' ')).join('; ') + ' (' + violation.nodes.length + ')');
      }
      check(true, 'accessibility checked');
      equal(said.join('\n'), '', name + ' ' + width + ' ' + scheme + ': silence');
      await narrow.close();
    }
  }

  // Paper: the card alone, then everything.
  await page.locator('#card-button').click();
  const card = await page.pdf({ format: 'A4', preferCSSPageSize: true });
  check(pagesOf(card) >= 1 && pagesOf(card) <= 2, name + ': the card on at most 2 pages, found ' + pagesOf(card));
  console.log(name + ': card ' + pagesOf(card) + ' page(s)');
  writeFileSync(path.join(output, name + '-card.pdf'), card);
  await page.locator('#card-button').click();
  const whole = await page.pdf({ format: 'A4', preferCSSPageSize: true });
  writeFileSync(path.join(output, name + '.pdf'), whole);
  check(pagesOf(whole) > pagesOf(card), name + ': the whole report goes on after the card');
  // The first sheet is the card and nothing else: it fits between the margins, and the report begins after a page break.
  await page.emulateMedia({ media: 'print' });
  await page.setViewportSize({ width: 710, height: 1040 });
  const sheet = await page.evaluate(() => {
    const box = document.querySelector('.card').getBoundingClientRect();
    return { top: box.top, height: box.height, next: getComputedStyle(document.querySelector('.card')).breakAfter,
      above: document.querySelector('.card').getBoundingClientRect().top + scrollY };
  });
  // A4 less 11 mm margins, at 96 pixels an inch (CSS Values and Units, level 4).
  check(sheet.height <= (297 - 22) / 25.4 * 96, name + ': the card fits the first sheet, ' + sheet.height + ' pixels');
  equal(sheet.above, 0, name + ': nothing before the card');
  equal(sheet.next, 'page', name + ': a new sheet after the card');
  await page.emulateMedia({ media: 'screen' });
  if (pictures && name === path.basename(trips[0], '.toml')) {
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({ width: 718, height: 1040 });
    await page.locator('.card').screenshot({ path: path.join(pictures, 'card-print.png') });
    await page.emulateMedia({ media: 'screen' });
  }
  equal(noise.join('\n'), '', name + ': silence');
  await desk.close();
}

// What a thumb and an eye need: targets of 40 pixels, letters of 11, the answer and all regions on two screens.
async function smallScreen(page, name) {
  const found = await page.evaluate(() => {
    const seen = (e) => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== 'hidden' && !e.closest('.skip, .card');
    const box = (e) => { const r = e.getBoundingClientRect(); return [Math.round(r.width), Math.round(r.height)]; };
    const small = Array.from(document.querySelectorAll('button, select, .cell, .pick[data-thing], summary, .contents a, .bands label, input[type=range]'))
      .filter(seen).filter((e) => box(e)[1] < 40 || (e.matches('.cell') && box(e)[0] < 40 && document.querySelectorAll('.regions .utc th').length <= 10))
      .map((e) => (e.id || e.className || e.tagName) + ' ' + box(e));
    const letters = Array.from(document.querySelectorAll('body *')).filter((e) => seen(e) && Array.from(e.childNodes).some((n) => n.nodeType === 3 && n.textContent.trim()))
      .map((e) => {
        const svg = e.ownerSVGElement;
        const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
        return [parseFloat(getComputedStyle(e).fontSize) * scale, (e.getAttribute('class') || e.tagName) + ': ' + e.textContent.trim().slice(0, 20)];
      }).filter(([size]) => size < 10.95).map(([size, what]) => size.toFixed(1) + ' ' + what);
    return { small, letters, regions: document.querySelector('.regions') ? document.querySelector('.regions').getBoundingClientRect().bottom + scrollY : 0 };
  });
  equal(found.small.slice(0, 5).join('; '), '', name + ': targets of 40 pixels (' + found.small.length + ' smaller)');
  equal(found.letters.slice(0, 5).join('; '), '', name + ': letters of 11 pixels (' + found.letters.length + ' smaller)');
  check(found.regions <= 1480, name + ': answer, beam and regions on the first two screens, the table ends at ' + Math.round(found.regions) + ' of 1480 pixels');
  console.log(name + ': the table of regions ends at ' + Math.round(found.regions) + ' of 1480 pixels');
}

// Plain words: each way, each band, and every marked word leads to its gloss.
async function readWords(page, data, name) {
  const found = await page.evaluate(() => ({
    blocks: Array.from(document.querySelectorAll('.why')).map((d) => ({
      title: d.querySelector('summary bdi').textContent, bands: Array.from(d.querySelectorAll('.verdictline')).map((p) => p.textContent.split(' ')[0]),
      chains: Array.from(d.querySelectorAll('.chain')).map((c) => c.children.length),
    })),
    links: Array.from(document.querySelectorAll('.word')).map((a) => a.getAttribute('href').slice(1)),
    glosses: Array.from(document.querySelectorAll('.glossary dt')).map((dt) => [dt.id, dt.nextElementSibling.textContent.length]),
  }));
  equal(found.blocks.length, data.ways.length, name + ': words for each way');
  found.blocks.forEach((block, i) => {
    equal(block.title, data.targets[data.ways[i].target].name, name + ': words in the order of the ways');
    equal(block.bands.slice().sort().join(), data.bands.map((b) => b.id).sort().join(), name + ' ' + block.title + ': a verdict for each band');
    check(block.chains.every((n) => n >= 1), name + ' ' + block.title + ': at least one cause each');
  });
  const glossed = new Map(found.glosses);
  check(found.links.length > 0 && found.links.every((id) => glossed.get(id) > 20), name + ': every marked word has its gloss');
}

// Saving asks nobody: a download made in the page, an SVG that stands alone.
async function savePictures(page, name) {
  // Read in an empty page: there the report's policy does not judge the picture's own style.
  const reader = await page.context().newPage();
  for (const place of ['.chartbox', '.hopbox', '.plots figure']) {
    const [download] = await Promise.all([page.waitForEvent('download'), page.locator(place + ' .save').first().click()]);
    check(download.suggestedFilename().endsWith('.svg'), name + ' ' + place + ': saved as ' + download.suggestedFilename());
    const saved = readFileSync(await download.path(), 'utf8');
    const read = await reader.evaluate((text) => {
      const svg = new DOMParser().parseFromString(text, 'image/svg+xml');
      const words = Array.from(svg.querySelectorAll('text.caption')).map((t) => t.textContent).join(' ').trim();
      return { bad: svg.querySelectorAll('parsererror').length, title: svg.querySelector('title').textContent, words,
        style: svg.querySelector('style').textContent.length };
    }, saved);
    check(read.bad === 0 && read.title.length > 5 && read.words.length > 5 && read.style > 500 && !/https?:(?!\/\/www\.w3\.org\/2000\/svg)/.test(saved),
      name + ' ' + place + ': the saved picture stands alone');
  }
  await reader.close();
}

await finish();
