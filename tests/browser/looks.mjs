// What the page looks like where colours are the reader's own (forced colours) and on paper, by what the browser computes; and the
// empty tool page by axe-core. Usage: node looks.mjs SKERRY OUTPUT_DIR TRIP     environment: PICTURES (folder for screenshots)
import { execFileSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import path from 'node:path';
import { browser, check, context, equal, finish, open, runAxe } from './tools.mjs';

const [program, output, trip] = process.argv.slice(2);
if (!trip) {
  console.error('usage: node looks.mjs SKERRY OUTPUT_DIR TRIP');
  process.exit(2);
}
mkdirSync(output, { recursive: true });
const pictures = process.env.PICTURES;
const file = path.resolve(output, 'looks.html');
execFileSync(program, ['report', trip, '-o', file], { stdio: 'inherit' });

for (const scheme of ['light', 'dark']) {
  const own = await browser.newContext({ offline: true, viewport: { width: 1280, height: 900 }, forcedColors: 'active', colorScheme: scheme });
  const { page, noise } = await open(own, file);
  await page.evaluate(() => { document.querySelector('details.region').open = true; });
  const seen = await page.evaluate(() => {
    const style = (/** @type {string} */ what) => getComputedStyle(document.querySelector(what));
    const border = (what) => style(what).borderTopColor;
    return {
      paper: style('body').backgroundColor,
      chosen: style('.bands input:checked+span').backgroundColor, other: style('.bands input:not(:checked)+span').backgroundColor,
      on: border('.strip tbody td.on'), off: border('.strip tbody [data-band] td:not(.on)'),
      blocks: new Set(Array.from(document.querySelectorAll('.beam.wide .thing rect')).map((r) => getComputedStyle(r).fill)).size,
      home: style('.beam.wide .left rect').strokeDasharray, limit: style('.beam.wide .limit').stroke,
      chips: new Set(Array.from(document.querySelectorAll('.regions .chip')).map((c) => getComputedStyle(c).backgroundColor)).size,
    };
  });
  check(seen.chosen !== seen.other, scheme + ': the chosen band is told apart: ' + seen.chosen);
  check(seen.on !== seen.off && seen.off === seen.paper, scheme + ': frames of sessions alone: ' + seen.on + ', ' + seen.off);
  check(seen.blocks > 2 && seen.home !== 'none', scheme + ': blocks of the beam by what they bring, outlines at home');
  check(seen.limit !== seen.paper && seen.limit !== 'none', scheme + ': the notch is seen');
  check(seen.chips > 2, scheme + ': days of the regions are told apart');
  equal((await runAxe(page)).map((v) => v.id).join(), '', scheme + ', forced colours: axe finds nothing');
  if (pictures) {
    await page.evaluate(() => document.getElementById('strips-title').scrollIntoView());
    if (scheme === 'dark') await page.screenshot({ path: path.join(pictures, 'forced-1280-dark.png') });
  }
  equal(noise.join('\n'), '', scheme + ': silence');
  await own.close();
}

// Paper.
const desk = await context({ viewport: { width: 718, height: 1040 } });
const { page } = await open(desk, file);
await page.emulateMedia({ media: 'print' });
const paper = await page.evaluate(() => {
  const shown = (what) => Array.from(document.querySelectorAll(what)).filter((e) => e.getClientRects().length > 0);
  const bars = new Map(Array.from(document.querySelectorAll('.regions .chip')).map((c) => [c.className, getComputedStyle(c).backgroundImage]));
  return { left: shown('.left li').length, all: document.querySelectorAll('.left li').length, bars: Array.from(bars),
    strips: shown('.strip tbody [data-band] td').length, buttons: shown('button, input:not([data-tick]), select, textarea').length,
    boxed: Array.from(document.querySelectorAll('.cardgrid td.good')).every((td) => getComputedStyle(td).outlineStyle === 'solid' && /\d/.test(td.textContent)) };
});
check(paper.all > 0 && paper.left === paper.all, 'what stays at home is printed: ' + paper.left + ' of ' + paper.all);
check(paper.bars.length > 2 && new Set(paper.bars.map(([, image]) => image)).size === paper.bars.length && paper.bars.every(([, image]) => image.startsWith('linear-gradient')),
  'on paper each number of days has a bar of its own height');
check(paper.strips > 24, 'all hours are printed');
equal(paper.buttons, 0, 'no button on paper');
check(paper.boxed, 'boxed days of the card carry their number');
await desk.close();

// The empty tool, light and dark; only from a program that carries the engine.
const tool = path.resolve(output, 'tool.html');
let carries = true;
try { execFileSync(program, ['page', '-o', tool], { stdio: 'pipe' }); } catch { carries = false; }
for (const [scheme, widths] of carries ? [['light', [360, 1280]], ['dark', [768]]] : []) {
  for (const width of widths) {
    const one = await context({ viewport: { width, height: 800 }, colorScheme: scheme });
    const { page: empty, noise } = await open(one, tool);
    await empty.evaluate(() => { document.querySelectorAll('details').forEach((d) => { d.open = true; }); });
    equal((await runAxe(empty)).map((v) => v.id + ' ' + v.nodes[0].target).join(), '', 'the tool, ' + width + ' ' + scheme + ': axe finds nothing');
    equal(await empty.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0, 'the tool, ' + width + ': sideways overflow');
    equal(noise.join('\n'), '', 'the tool, ' + width + ' ' + scheme + ': silence');
    await one.close();
  }
}
if (!carries) console.log('the tool page was not looked at: the program carries no engine');
await finish();
