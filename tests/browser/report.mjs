// Opens reports in headless Chromium from file:// with the network off and checks what a reader would.
// Usage: node report.mjs SKERRY OUTPUT_DIR TRIP...     environment: CHROMIUM, PICTURES (folder for screenshots)
// Exit code: 0 all checks hold, 1 some do not, 77 something to test with is missing (ctest counts it as skipped).
// Size of the file, widths, pages and silence: the promises of the report itself. Accessibility: axe-core's rules for WCAG 2.2
// A and AA; what it calls serious or critical fails.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, writeFileSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { pathToFileURL } from 'node:url';

const [program, output, ...trips] = process.argv.slice(2);
if (!program || !output || !trips.length) {
  console.error('usage: node report.mjs SKERRY OUTPUT_DIR TRIP...');
  process.exit(2);
}

const require = createRequire(import.meta.url);
let chromium;
let axe;
try {
  ({ chromium } = require('playwright-core'));
  axe = require('axe-core').source;
} catch {
  console.log('SKIPPED: npm packages are missing: run "./dev browser", or npm ci --ignore-scripts in tests/browser');
  process.exit(77);
}
const browserPath = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find(
  (p) => p && existsSync(p));
if (!browserPath) {
  console.log('SKIPPED: no chromium found; install Debian\'s "chromium", or set CHROMIUM');
  process.exit(77);
}

mkdirSync(output, { recursive: true });
const pictures = process.env.PICTURES;
if (pictures) mkdirSync(pictures, { recursive: true });

let failed = 0;
let held = 0;
const check = (holds, what) => {
  if (holds) {
    held += 1;
  } else {
    failed += 1;
    console.error('FAILED: ' + what);
  }
};
const equal = (found, wanted, what) => check(Object.is(found, wanted), what + ': found ' + JSON.stringify(found) + ', wanted ' + JSON.stringify(wanted));

const browser = await chromium.launch({
  executablePath: browserPath,
  args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
    '--disable-component-update', '--disable-sync'],
});

// A page that counts everything it says and everything it asks of the network.
const open = async (context, file) => {
  const page = await context.newPage();
  const noise = [];
  page.on('console', (message) => noise.push('console: ' + message.text()));
  page.on('pageerror', (error) => noise.push('error: ' + error.message));
  page.on('request', (request) => {
    if (!request.url().startsWith('file://')) noise.push('request: ' + request.url());
  });
  await page.goto(pathToFileURL(file).href);
  return { page, noise };
};
const context = (options) => browser.newContext({ offline: true, ...options });

const cellOf = (data, way, hour, band) => {
  const row = data.ways[way].cells[hour * data.bands.length + band];
  return Object.fromEntries(row.map((value, i) => [data.cell_keys[i], value]));
};
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
    hops: document.querySelector('#hops .ray') && Number(document.querySelector('#hops .ray').dataset.hops),
    skip: document.querySelector('#hops .skipzone') && Number(document.querySelector('#hops .skipzone').dataset.skip),
    text: document.getElementById('hop-text').textContent,
    ledger: Array.from(document.querySelectorAll('#ledger tbody tr')).map((tr) => Array.from(tr.children).map((c) => c.textContent)),
    used: document.querySelectorAll('.way .used').length,
    works: Array.from(document.querySelectorAll('.map:not([hidden]) .spot.works')).map((s) => Number(s.dataset.target)),
    selected: Array.from(document.querySelectorAll('td[aria-selected=true]')).map((td) => [
      Number(td.closest('table').dataset.way), td.cellIndex - 1, Number(td.parentElement.dataset.band), td.textContent]),
  }));
  const at = where + ' way ' + way + ' ' + hour + ' UTC ' + data.bands[band].id;
  const site = data.sites[data.ways[way].site];
  equal(shown.clock.slice(0, 6), String(hour).padStart(2, '0') + ' UTC', at + ': clock');
  equal(shown.maps, 1, at + ': one map');
  equal(shown.map, site.map, at + ': the map of the site');
  equal(shown.night, data.nights[site.map][hour], at + ': night of the hour');
  equal(shown.skip, cell.skip_km > 0 ? cell.skip_km : null, at + ': skip zone');
  const works = data.ways.filter((w, i) => {
    const c = cellOf(data, i, hour, band);
    return w.site === data.ways[way].site && c.open === 1 && c.days_both >= data.want_days;
  }).map((w) => w.target);
  equal(JSON.stringify(shown.works), JSON.stringify(works), at + ': regions that work');
  if (cell.no_setup !== 1) {
    equal(shown.selected.length, 1, at + ': one cell chosen');
    const sign = cell.open !== 1 ? '.' : cell.days_both < 0.5 ? '-' : String(Math.round(cell.days_both));
    equal(JSON.stringify(shown.selected[0]), JSON.stringify([way, hour, band, sign]), at + ': the chosen cell');
  }
  if (cell.open === 1 && cell.there_snr_db !== undefined) {
    equal(shown.hops, cell.hops, at + ': hops drawn');
    equal(shown.used, 1, at + ': one way round is used');
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
    equal(shown.hops, null, at + ': no ray where there is none');
  }
};

for (const trip of trips) {
  const name = path.basename(trip, '.toml');
  const file = path.resolve(output, name + '.html');
  execFileSync(program, ['report', trip, '-o', file], { stdio: 'inherit' });
  const size = statSync(file).size;
  console.log(name + ': ' + size + ' bytes');
  check(size <= 1.5e6, name + ': at most 1.5 MB, found ' + size);

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
  // A cell by mouse, then its neighbours by keyboard.
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
    for (const width of [360, 1280]) {
      const narrow = await context({ viewport: { width, height: 800 }, colorScheme: scheme });
      const { page: p, noise: said } = await open(narrow, file);
      const over = await p.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      equal(over, 0, name + ' ' + width + ' px: sideways overflow');
      if (pictures && name === path.basename(trips[0], '.toml') && (scheme === 'light' || width === 1280)) {
        await p.screenshot({ path: path.join(pictures, 'report-' + width + '-' + scheme + '.png') });
        await p.locator('#explore').scrollIntoViewIfNeeded();
        await p.evaluate(() => document.getElementById('explore').scrollIntoView());
        await p.screenshot({ path: path.join(pictures, 'hours-' + width + '-' + scheme + '.png') });
        if (scheme === 'light') {
          await p.evaluate(() => document.getElementById('strips-title').scrollIntoView());
          await p.screenshot({ path: path.join(pictures, 'strips-' + width + '-' + scheme + '.png') });
          await p.evaluate(() => document.getElementById('antenna-title').scrollIntoView());
          await p.screenshot({ path: path.join(pictures, 'plots-' + width + '-' + scheme + '.png') });
        }
      }
      await p.evaluate(() => { document.querySelectorAll('details').forEach((d) => { d.open = true; }); });
      // The checker runs in the page's isolated world through the debugger, so that the page's policy stays in force.
      const result = await runAxe(p);
      for (const violation of result.filter((v) => v.impact === 'serious' || v.impact === 'critical')) {
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
  if (pictures && name === path.basename(trips[0], '.toml')) {
    await page.emulateMedia({ media: 'print' });
    await page.setViewportSize({ width: 718, height: 1040 });
    await page.screenshot({ path: path.join(pictures, 'card-print.png') });
    await page.emulateMedia({ media: 'screen' });
  }
  equal(noise.join('\n'), '', name + ': silence');
  await desk.close();
}

async function runAxe(page) {
  const session = await page.context().newCDPSession(page);
  const { frameTree } = await session.send('Page.getFrameTree');
  const { executionContextId } = await session.send('Page.createIsolatedWorld', { frameId: frameTree.frame.id });
  const evaluate = async (expression) => {
    const { result, exceptionDetails } = await session.send('Runtime.evaluate',
      { expression, contextId: executionContextId, awaitPromise: true, returnByValue: true });
    if (exceptionDetails) throw new Error(exceptionDetails.exception ? exceptionDetails.exception.description : exceptionDetails.text);
    return result.value;
  };
  await evaluate(axe + '; 0');
  return evaluate('axe.run(document, {runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]}).then((r) => ' +
    'r.violations.map((v) => ({id: v.id, impact: v.impact, help: v.help, nodes: v.nodes.map((n) => ({target: n.target}))})))');
}

await browser.close();
console.log(held + ' checks hold, ' + failed + ' do not');
process.exit(failed ? 1 : 0);
