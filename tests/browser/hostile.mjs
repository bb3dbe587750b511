// Names and trips that nobody should have, and some that one may: the page stays whole, silent and within its width.
// Usage: node hostile.mjs SKERRY OUTPUT_DIR TRIP     the trip is what the others are made of
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { check, context, contradictions, equal, finish, open, runAxe } from './tools.mjs';

const [program, output, example] = process.argv.slice(2);
if (!example) {
  console.error('usage: node hostile.mjs SKERRY OUTPUT_DIR TRIP');
  process.exit(2);
}
mkdirSync(output, { recursive: true });
const good = readFileSync(example, 'utf8');
const named = (site, thing) => good.replace('name = "Mont Limon"', () => 'name = ' + JSON.stringify(site)).replace('name = "10 W all-mode set"', () => 'name = ' + JSON.stringify(thing));
const moved = (at, zone, days) => good.replace(/at = "[^"]*"/g, 'at = "' + at + '"').replace(/zone = "[^"]*"/g, 'zone = "' + zone + '"')
  .replace(/first_day = .*/, 'first_day = ' + days[0]).replace(/last_day = .*/, 'last_day = ' + days[1]);
const regions = ['western-europe', 'british-isles', 'southern-africa', 'south-asia', 'japan', 'western-australia', 'eastern-north-america', 'western-north-america',
  'new-zealand', 'hawaii', 'scandinavia', 'eastern-europe'];
const known = execFileSync(program, ['schema', 'trip'], { encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] });
const twelve = regions.filter((id) => known.includes('"' + id + '"') || good.includes('"' + id + '"'));
const trips = {
  script: named('</bdi><script>alert(1)</script>', '"><img src=x onerror=alert(2)>'),
  'right-to-left': named('\u05d0\u05d9 \u05e8\u05d5\u05d3\u05e8\u05d9\u05d2\u05e1 abc', '\u062c\u0647\u0627\u0632 10'),
  'long-names': named('W'.repeat(200), 'a long name '.repeat(16).trim()),
  'polar-night': moved('78.20,15.60', 'Europe/Oslo', ['2027-12-18', '2027-12-22']),
  antimeridian: moved('-16.80,179.99', 'Pacific/Fiji', ['2027-02-13', '2027-02-17']),
  regions: good.replace(/\[\[region\]\][\s\S]*?(?=\[licence\])/, () => twelve.map((id) => '[[region]]\npreset = "' + id + '"\n').join('\n') + '\n'),
  things: good + Array.from({ length: 44 }, (none, i) => '\n[[item]]\nid = "thing-' + i + '"\nname = "thing of number ' + i + '"\nmass_g = ' + (10 + i) + '\n').join(''),
};

for (const [name, text] of Object.entries(trips)) {
  const source = path.resolve(output, 'hostile-' + name + '.toml');
  const file = source.replace('.toml', '.html');
  writeFileSync(source, text);
  execFileSync(program, ['report', source, '-o', file], { stdio: ['ignore', 'inherit', 'inherit'] });
  console.log(name + ': ' + statSync(file).size + ' bytes');
  for (const width of [360, 1280]) {
    const one = await context({ viewport: { width, height: 800 } });
    const { page, noise } = await open(one, file);
    const data = JSON.parse(await page.locator('#data').textContent());
    const { wrong } = contradictions(data);
    equal(wrong.length, 0, name + ': cells that contradict themselves');
    equal(await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth), 0, name + ' ' + width + ' px: sideways overflow');
    equal(await page.evaluate(() => document.querySelectorAll('script').length + document.querySelectorAll('img').length), 5, name + ': no element of a name');
    // Every hour of the first way is drawn.
    for (let hour = 0; hour < 24; hour += 5) await page.locator('#hour').fill(String(hour));
    const bad = await page.evaluate(() => /NaN|undefined|inf/.test(Array.from(document.querySelectorAll('svg')).map((svg) => svg.outerHTML).join('')));
    check(!bad, name + ': every number is one');
    if (name === 'things') {
      const stops = await page.evaluate(() => {
        const all = Array.from(document.querySelectorAll('a[href], button, input, select, textarea, summary, [tabindex]')).filter((e) => e.tabIndex >= 0 &&
          e.getClientRects().length > 0);
        const links = all.filter((e) => e.closest('.contents')).length;
        return { links, beam: all.filter((e) => e.closest('#grams')).length, hours: all.filter((e) => e.closest('#hours')).length };
      });
      // By the contents to any part, and through the first two.
      check(stops.links + 2 <= 40 && stops.beam <= 40 && stops.hours <= 40, name + ': stops of the Tab key: ' + JSON.stringify(stops));
    }
    const found = await runAxe(page);
    equal(found.map((v) => v.id + ' ' + v.nodes[0].target).join('; '), '', name + ' ' + width + ': axe');
    equal(noise.join('\n'), '', name + ' ' + width + ': silence');
    await one.close();
  }
}
await finish();
