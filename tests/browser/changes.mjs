// Changes the page by mouse, touch and keyboard while a program that speaks the engine's messages answers it: a JSON message a
// line in, a JSON answer a line out. Then 500 changes with answers from a drawer, after which no memory may be lost.
// Usage: node changes.mjs SESSION SKERRY OUTPUT_DIR TRIP
import { execFileSync, spawn } from 'node:child_process';
import { mkdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { check, context, equal, finish, open, runAxe } from './tools.mjs';

const [sessionProgram, program, output, trip] = process.argv.slice(2);
if (!trip) {
  console.error('usage: node changes.mjs SESSION SKERRY OUTPUT_DIR TRIP');
  process.exit(2);
}
mkdirSync(output, { recursive: true });
const file = path.resolve(output, 'changes.html');
execFileSync(program, ['report', trip, '-o', file], { stdio: 'inherit' });

const session = sessionProgram.endsWith('.mjs') ? spawn('node', [sessionProgram], { stdio: ['pipe', 'pipe', 'inherit'] }) :
  spawn(sessionProgram, [], { stdio: ['pipe', 'pipe', 'inherit'] });
const answers = createInterface({ input: session.stdout })[Symbol.asyncIterator]();
let turn = Promise.resolve();
const drawer = new Map();
const times = [];
const ask = (message) => {
  turn = turn.then(async () => {
    const began = Date.now();
    session.stdin.write(JSON.stringify(message) + '\n');
    const reply = JSON.parse((await answers.next()).value);
    times.push([message.do, Date.now() - began]);
    drawer.set(message.do, reply);
    return reply;
  });
  return turn;
};

const begin = async (options) => {
  const wide = await context(options);
  const opened = await open(wide, file, (page) => page.exposeFunction('skerryAsk', ask));
  await opened.page.locator('#trip-text').evaluate((box, text) => { box.value = text; }, readFileSync(trip, 'utf8'));
  return opened;
};
const quiet = (page) => page.waitForFunction(() => !document.body.classList.contains('busy') && !document.getElementById('changed').hidden);
/** Until the answer to the last change is there and everything that hangs on it as well. */
const settled = async (page) => {
  await quiet(page);
  await turn;
  await page.waitForTimeout(300);
  await turn;
};
const shown = (page) => page.evaluate(() => ({
  reach: document.querySelector('[data-v=reach]') ? document.querySelector('[data-v=reach]').firstChild.textContent.trim() : '',
  ghosts: Array.from(document.querySelectorAll('s.ghost')).map((s) => s.textContent),
  said: document.getElementById('changed-text').textContent,
  status: document.getElementById('status').textContent,
  limit: Number(document.getElementById('limit').value),
  carried: Array.from(document.querySelectorAll('.folds')[0].querySelectorAll('.pick')).map((p) => p.dataset.thing),
  focus: document.activeElement.id || document.activeElement.dataset.thing || document.activeElement.value,
  link: location.hash,
}));

// By keyboard: the notch, a gram a press of ten.
const { page, noise } = await begin({ viewport: { width: 1280, height: 900 } });
const first = await shown(page);
await page.locator('#limit').focus();
await page.keyboard.press('PageDown');
await settled(page);
const less = await shown(page);
check(less.limit < first.limit, 'the notch went down by keyboard: ' + first.limit + ' to ' + less.limit);
equal(less.focus, 'limit', 'the focus stays on the notch');
check(less.said.length > 5 && less.said.length <= 120, 'one sentence on what changed: ' + less.said);
check(less.reach === first.reach || less.ghosts.includes(first.reach), 'the former value stays beside the new one: ' + JSON.stringify(less.ghosts));
check(/limit=\d+/.test(less.link), 'the link carries the limit: ' + less.link);

// A thing by keyboard: not mine, then undone.
const heavy = less.carried[0];
await page.locator('.folds .pick').first().focus();
await page.keyboard.press('Enter');
check(await page.locator('#thing').isVisible(), 'the thing is told');
await page.locator('input[name=wish][value=not]').check({ force: true });
await settled(page);
const without = await shown(page);
check(!without.carried.includes(heavy), heavy + ' stays at home when it is not mine');
equal(await page.locator('.pick.not[data-thing="' + heavy + '"]').count(), 1, heavy + ' is marked');
check(without.said.length > 5 && without.said.length <= 120, 'told: ' + without.said);
check(without.link.includes('not=' + encodeURIComponent(heavy)), 'the link carries the wish: ' + without.link);
await page.locator('#undo-button').click();
await settled(page);
equal((await shown(page)).carried.join(), less.carried.join(), 'undone');

// By mouse: the notch is taken and drawn to the left.
const box = await page.locator('#limit').boundingBox();
const at = (await shown(page)).limit / Number(await page.locator('#limit').getAttribute('max'));
const x = box.x + 22 + (box.width - 44) * at;
await page.mouse.move(x, box.y + box.height / 2);
await page.mouse.down();
await page.mouse.move(x - 40, box.y + box.height / 2, { steps: 4 });
await page.mouse.up();
await settled(page);
const drawn = await shown(page);
check(drawn.limit < less.limit, 'the notch was drawn by mouse: ' + less.limit + ' to ' + drawn.limit);
const found = await runAxe(page);
equal(found.map((v) => v.id).join(), '', 'axe finds nothing after the changes');
equal(noise.join('\n'), '', 'silence');
await page.context().close();

// By touch, on a small screen: a block, a wish, a step of the limit.
const small = await begin({ viewport: { width: 360, height: 740 }, hasTouch: true, isMobile: true });
await small.page.locator('.beam.narrow .thing').first().tap();
check(await small.page.locator('#thing').isVisible(), 'a block is touched and told');
await small.page.locator('#wish label').nth(1).tap();
await settled(small.page);
check((await small.page.locator('.pick.must').count()) === 1, 'it must go');
await small.page.locator('.railtext .stepper').first().tap();
await settled(small.page);
equal((await shown(small.page)).limit, first.limit - 100, 'a step of the limit');
equal(small.noise.join('\n'), '', 'silence on a small screen');
await small.page.context().close();
session.stdin.end();

// 500 changes, answered from the drawer: what is counted is the page alone.
const many = await context({ viewport: { width: 1280, height: 900 } });
const replies = Object.fromEntries(drawer);
const last = await open(many, file, (p) => p.addInitScript((answersOf) => {
  window.skerryAsk = (message) => Promise.resolve(answersOf[message.do]);
}, replies));
const cdp = await many.newCDPSession(last.page);
await cdp.send('Performance.enable');
const used = async () => {
  await cdp.send('HeapProfiler.collectGarbage');
  const { metrics } = await cdp.send('Performance.getMetrics');
  return Object.fromEntries(metrics.map((m) => [m.name, m.value]));
};
const change = (times) => last.page.evaluate(async (n) => {
  for (let i = 0; i < n; ++i) {
    document.querySelector('.railtext [data-step="' + (i % 2 ? 100 : -100) + '"]').click();
    await new Promise((done) => setTimeout(done, 0));
  }
  await new Promise((done) => setTimeout(done, 500));
}, times);
await change(20);
const before = await used();
await change(500);
const after = await used();
console.log('after 500 changes: ' + Math.round(before.JSHeapUsedSize / 1024) + ' kB, then ' + Math.round(after.JSHeapUsedSize / 1024) + ' kB; nodes ' +
  before.Nodes + ', then ' + after.Nodes);
// Judgement: what a list of 500 changes to be undone may take, and what a browser keeps for itself.
check(after.JSHeapUsedSize < before.JSHeapUsedSize + 2e6, 'no memory is lost');
check(after.Nodes < before.Nodes * 1.1, 'no nodes are lost');
equal(last.noise.join('\n'), '', 'silence after 500 changes');
for (const what of new Set(times.map(([name]) => name))) {
  const of = times.filter(([name]) => name === what).map(([, ms]) => ms);
  console.log('answers to ' + what + ': ' + of.join(', ') + ' ms');
}
await finish();
