// What the browser's tests share: the browser, the counting of checks, the judges.
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';

export const missing = (what) => {
  console.log((process.env.CI ? 'MISSING: ' : 'SKIPPED: ') + what);
  process.exit(process.env.CI ? 1 : 77);
};

const require = createRequire(import.meta.url);
let chromium;
let axe;
try {
  ({ chromium } = require('playwright-core'));
  axe = require('axe-core').source;
} catch {
  missing('npm packages are missing: run "./dev browser", or npm ci --ignore-scripts in tests/browser');
}
const browserPath = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find(
  (p) => p && existsSync(p));
if (!browserPath) missing('no chromium found; install Debian\'s "chromium", or set CHROMIUM');

let failed = 0;
let held = 0;
export const check = (holds, what) => {
  if (holds) {
    held += 1;
  } else {
    failed += 1;
    console.error('FAILED: ' + what);
  }
};
export const equal = (found, wanted, what) => check(Object.is(found, wanted), what + ': found ' + JSON.stringify(found) + ', wanted ' + JSON.stringify(wanted));

export const browser = await chromium.launch({
  executablePath: browserPath,
  args: ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
    '--disable-component-update', '--disable-sync'],
});

// A page that counts everything it says and everything it asks of the network.
export const open = async (context, file, prepare) => {
  const page = await context.newPage();
  // Machines that are busy with other work are slow.
  page.setDefaultTimeout(120000);
  if (prepare) await prepare(page);
  const noise = [];
  page.on('console', (message) => noise.push('console: ' + message.text()));
  page.on('pageerror', (error) => noise.push('error: ' + error.message));
  page.on('request', (request) => {
    // A blob is the page's own text: its worker.
    if (!/^(file:\/\/|blob:)/.test(request.url())) noise.push('request: ' + request.url());
  });
  await page.goto(pathToFileURL(file).href);
  return { page, noise };
};
export const context = (options) => browser.newContext({ offline: true, ...options });

export const cellOf = (data, way, hour, band) => {
  const row = data.ways[way].cells[hour * data.bands.length + band];
  return Object.fromEntries(row.map((value, i) => [data.cell_keys[i], value]));
};
// A picture that contradicts itself: a ray that comes down where the same picture says that nothing does, or that leaves below
// the horizon. Every cell, by the figures that are drawn.
export const contradictions = (data) => {
  let drawn = 0;
  const wrong = [];
  data.ways.forEach((way, w) => {
    for (let hour = 0; hour < 24; ++hour) {
      for (let band = 0; band < data.bands.length; ++band) {
        const cell = cellOf(data, w, hour, band);
        if (!(cell.hops > 0)) continue;
        drawn += 1;
        const numbers = cell.hop.match(/-?[0-9.]+/g).map(Number);
        const lands = 30 + numbers[2] + numbers[8];
        // Both are written to a tenth of a unit.
        if (cell.skip_x > lands + 0.21) wrong.push([w, hour, band, 'lands at ' + lands + ' within ' + cell.skip_x]);
        if (cell.elevation_deg < 0 || numbers[1] > 0) wrong.push([w, hour, band, 'leaves below the horizon']);
      }
    }
  });
  return { drawn, wrong };
};

export async function runAxe(page) {
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

export const finish = async () => {
  await browser.close();
  console.log(held + ' checks hold, ' + failed + ' do not');
  process.exit(failed ? 1 : 0);
};
