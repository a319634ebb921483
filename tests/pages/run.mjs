// Looks over the owner's papers with axe-core in a real browser: what keeps somebody from
// reading them who cannot see, or not well, or only on a telephone.
//
//   cargo build -p tellmark && (cd tests/pages && npm ci && node run.mjs)
//
// Needs Chromium (or CHROMIUM with its path). Ends with `N passed, N failed`; exit code 1 if
// anything failed, 3 if there is no browser.
import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const here = path.dirname(fileURLToPath(import.meta.url));
const root = path.join(here, '../..');
const target = process.env.CARGO_TARGET_DIR ?? path.join(root, 'target');
const tellmark = path.join(target, 'debug/tellmark');
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const jobs = path.join(root, 'tests/jobs');
const folder = mkdtempSync(path.join(tmpdir(), 'tellmark-pages-'));

const browser = [process.env.CHROMIUM, 'chromium', 'chromium-browser', 'google-chrome']
  .find((name) => name && spawnSync(name, ['--version']).status === 0);
if (!browser) {
  console.error('There is no Chromium, so the pages were not looked over.');
  process.exit(3);
}

/** Runs a command of ours; what it cannot do ends everything. */
function run(...words) {
  const ran = spawnSync(tellmark, words, { cwd: folder, encoding: 'utf8' });
  if (ran.error || ran.status > 1) {
    throw new Error(`tellmark ${words.join(' ')}: ${ran.error ?? ran.stderr}`);
  }
}

/** A house with a heading and prices of its own. */
function house() {
  mkdirSync(path.join(folder, 'house'));
  writeFileSync(path.join(folder, 'house/workshop.txt'),
    'name: The Invented Bench\ntrade: furniture mended\naddress: 2 No Lane\n'
    + 'telephone: 01632 960 001\nnote: Not registered for VAT.\n');
  cpSync(path.join(root, 'rules/prices.rhai'), path.join(folder, 'house/prices.rhai'));
}

/** The demonstration at each moment: name, and the record's lines up to the day. */
const MOMENTS = [
  ['estimate', 'landing-chest', '9999'],
  ['agreed', 'landing-chest-finished', '2026-09-17'],
  ['half-done', 'landing-chest-finished', '2026-09-27'],
  ['hand-back', 'landing-chest-finished', '9999'],
];

/** Makes the page of a moment and says where it is. */
function made([name, job, before]) {
  cpSync(path.join(jobs, job), path.join(folder, name), { recursive: true });
  const record = path.join(folder, name, 'record.txt');
  const lines = readFileSync(record, 'utf8').split('\n').filter((line) => line < before);
  writeFileSync(record, `${lines.join('\n').trimEnd()}\n`);
  const page = path.join(folder, `${name}.html`);
  run('report', name, '--rules', 'house', '--out', `${name}.html`);
  return page;
}

const escaped = (text) => text.replaceAll('&', '&amp;').replaceAll('"', '&quot;');

/** What axe-core finds on a page of this width, in dots. */
function looked(page, width) {
  // The page's own policy forbids every script, so a copy without it is looked at.
  const own = readFileSync(page, 'utf8').replace(/<meta http-equiv="Content-Security-Policy"[^>]*>/, '');
  const asks = 'axe.run().then((all) => parent.found(all.violations), (why) => parent.found(String(why)))';
  const inside = own.replace('</body>', () => `<script>${axe}</script><script>${asks}</script></body>`);
  const outside = '<!doctype html><html lang="en"><title>frame</title><body><pre id="found"></pre>'
    + '<script>function found(what) { document.getElementById("found").textContent ='
    + ' "[[" + btoa(unescape(encodeURIComponent(JSON.stringify(what)))) + "]]"; }</script>'
    + `<iframe title="page" width="${width}" height="900" srcdoc="${escaped(inside)}"></iframe></body></html>`;
  const file = path.join(folder, 'frame.html');
  writeFileSync(file, outside);
  const ran = spawnSync(browser, ['--headless', '--no-sandbox', '--disable-gpu', '--dump-dom',
    `--user-data-dir=${path.join(folder, 'profile')}`, '--virtual-time-budget=60000',
    '--window-size=1100,1000', `file://${file}`],
  { encoding: 'utf8', maxBuffer: 1 << 28, timeout: 180_000 });
  const said = /<pre id="found">\[\[([A-Za-z0-9+/=]*)\]\]<\/pre>/.exec(ran.stdout ?? '');
  if (!said) throw new Error(`the browser did not answer: ${ran.stderr}`);
  const found = JSON.parse(Buffer.from(said[1], 'base64').toString('utf8'));
  if (typeof found === 'string') throw new Error(found);
  return found;
}

let passed = 0;
let failed = 0;
house();
for (const moment of MOMENTS) {
  const page = made(moment);
  for (const width of [390, 1000]) {
    const found = looked(page, width);
    if (found.length === 0) {
      passed += 1;
      continue;
    }
    failed += 1;
    console.log(`${moment[0]} at ${width} dots:`);
    for (const one of found) {
      console.log(`  ${one.impact}: ${one.help} (${one.id})`);
      for (const node of one.nodes.slice(0, 4)) console.log(`      ${node.html.slice(0, 160)}`);
    }
  }
}
rmSync(folder, { recursive: true, force: true });
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed ? 1 : 0;
