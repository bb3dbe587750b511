// The folder for those who host the page, behind a server of this machine: it is installed at the first visit, then the server is
// gone, and the page still opens and computes. A new version replaces the old one whole.
// Usage: node hosted.mjs SKERRY OUTPUT_DIR
import { execFileSync } from 'node:child_process';
import { readFileSync, rmSync } from 'node:fs';
import { createServer } from 'node:http';
import path from 'node:path';
import { browser, check, equal, finish, missing, runAxe } from './tools.mjs';

const [program, output] = process.argv.slice(2);
if (!output) {
  console.error('usage: node hosted.mjs SKERRY OUTPUT_DIR');
  process.exit(2);
}
const folder = path.resolve(output, 'hosted');
rmSync(folder, { recursive: true, force: true });
const write = (day) => execFileSync(program, ['page', '--folder', folder, '--first-day', day], { stdio: 'pipe' });
try {
  write('2027-02-13');
} catch (problem) {
  if (String(problem.stderr).includes('without the engine')) missing('a program that carries the engine: run "./dev page"');
  throw problem;
}

const kinds = { '.html': 'text/html', '.js': 'text/javascript', '.svg': 'image/svg+xml', '.png': 'image/png', '.webmanifest': 'application/manifest+json' };
let asked = [];
const serve = () => new Promise((done) => {
  const server = createServer((request, response) => {
    const name = request.url.replace(/[?#].*/, '').replace(/\/$/, '/index.html').slice(1);
    asked.push(name);
    let content;
    try { content = readFileSync(path.join(folder, path.basename(name))); } catch { response.writeHead(404).end(); return; }
    response.writeHead(200, { 'Content-Type': kinds[path.extname(name)], 'Cache-Control': 'max-age=600' }).end(content);
  });
  server.listen(serve.port || 0, '127.0.0.1', () => { serve.port = server.address().port; done(server); });
});
const stop = (server) => new Promise((done) => { server.closeAllConnections(); server.close(done); });

let server = await serve();
const place = 'http://localhost:' + serve.port + '/';
const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
const page = await context.newPage();
page.setDefaultTimeout(120000);
const noise = [];
page.on('console', (message) => noise.push('console: ' + message.text()));
page.on('pageerror', (error) => noise.push('error: ' + error.message));
context.on('request', (request) => {
  if (!request.url().startsWith(place) && !request.url().startsWith('blob:')) noise.push('request: ' + request.url());
});
await page.goto(place);
// A document that came from the worker: controlled, and every file kept.
await page.evaluate(() => navigator.serviceWorker.ready);
await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
const kept = () => page.evaluate(async () => {
  const names = await caches.keys();
  const cache = await caches.open(names[0]);
  return { names, files: (await cache.keys()).map((request) => new URL(request.url).pathname).sort() };
});
const first = await kept();
equal(first.names.length, 1, 'one version is kept');
equal(first.files.join(), '/,/icon-192.png,/icon-512.png,/icon.svg,/index.html,/skerry.webmanifest', 'all files are kept');
check(asked.includes('worker.js'), 'the worker was asked for');
const cdp = await context.newCDPSession(page);
const manifest = await cdp.send('Page.getAppManifest');
equal(manifest.errors.map((e) => e.message).join(), '', 'the browser reads the manifest');
check(manifest.url.endsWith('/skerry.webmanifest') && JSON.parse(manifest.data).icons.length === 3, 'the manifest with its icons');
const bars = await cdp.send('Page.getInstallabilityErrors').catch(() => ({ installabilityErrors: [] }));
// A private window never installs anything; the browser gives it as the reason.
equal(bars.installabilityErrors.map((e) => e.errorId).filter((id) => id !== 'in-incognito').join(), '', 'nothing stands in the way of an installation');
equal((await runAxe(page)).map((v) => v.id).join(), '', 'axe finds nothing');

// The server is gone and the network as well.
await stop(server);
await context.setOffline(true);
asked = [];
await page.reload();
const reach = () => page.evaluate(() => document.querySelector('[data-v=reach]').firstChild.textContent.trim());
check(/%/.test(await reach()), 'the page stands without server: ' + await reach());
const before = await page.locator('#limit').inputValue();
await page.locator('.railtext .stepper').first().click();
await page.waitForFunction(() => !document.getElementById('changed').hidden, null, { timeout: 300000 });
check(Number(await page.locator('#limit').inputValue()) < Number(before), 'it computes without server');
const said = await page.locator('#changed-text').textContent();
check(said.length > 5 && said.length <= 120, 'and says so: ' + said);
check((await page.locator('#trip-error').isHidden()), 'without a mistake');
equal(asked.join(), '', 'nobody was asked');

// A new version, found at the next visit, takes the place of the old one as a whole.
write('2027-05-01');
await context.setOffline(false);
server = await serve();
await page.goto('about:blank');
await page.goto(place);
await page.evaluate(async () => { await (await navigator.serviceWorker.getRegistration()).update(); });
await page.waitForFunction(async (old) => { const names = await caches.keys(); return names.length === 1 && names[0] !== old; }, first.names[0]);
// The old one's files are gone a moment before the new one has the page.
await page.waitForFunction(async () => {
  const { active } = await navigator.serviceWorker.getRegistration();
  return active && active.state === 'activated' && navigator.serviceWorker.controller === active;
});
await page.reload();
// Seen: the browser may show the page that it had once more.
for (let i = 0; i < 4 && (await page.locator('#set-date').inputValue()) !== '2027-05-01'; ++i) {
  console.log('once more the old page');
  await page.goto('about:blank');
  await page.goto(place);
}
equal(await page.locator('#set-date').inputValue(), '2027-05-01', 'the new page after the new worker');
await stop(server);
equal(noise.join('\n'), '', 'silence, and nobody else is asked');
await context.close();
await finish();
