// Runs the bench unit's measuring binaries and its firmware in an emulator and checks
// them.
//
//   hw-notes/firmware/build.sh && (cd tests/device && npm ci && node run.mjs)
//   UPDATE=1 node run.mjs          writes the snapshots anew instead of comparing
//   node run.mjs FOLDER            takes what was built from that target folder
//
// Ends with `N passed, N failed`; exit code 1 if anything failed.
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import path from 'node:path';
import { Elf, hex } from './elf.mjs';
import { run } from './measure.mjs';
import { finish, must, snapshot, test } from './check.mjs';
import { desk } from './desk.mjs';
import { costs, difference, flash, memory } from './table.mjs';

const here = path.dirname(fileURLToPath(import.meta.url));
const target = process.env.CARGO_TARGET_DIR ?? path.join(here, '../../hw-notes/firmware/target');
const hosts = process.env.CARGO_TARGET_DIR ?? path.join(here, '../../target');
const built = path.join(process.argv[2] ?? target, 'thumbv6m-none-eabi');

// What the bench can wait for, and what fits (bytes, and cycles at 125 MHz).
const CYCLES = new Map([
  ['open the pack', 125_000_000],
  ['one answer on a drawer, its hidden states', 5_000_000],
  ['one answer on a drawer, triage', 5_000_000],
  ['triage, from nothing, 40 in 100 answered', 25_000_000],
  ['what to look at next, nothing answered', 250_000_000],
  ['what to look at next, 40 in 100 answered', 250_000_000],
  ['what to look at next, 10 in 100 answered', 250_000_000],
]);
const [FLASH, PACK, RAM] = [160, 256, 96].map((kib) => kib * 1024);

/** Loads a binary and runs it; what every binary must keep to is tested. */
async function binary(name) {
  const file = path.join(built, 'release', name);
  if (!existsSync(file)) {
    console.error(`${file} is not there: run hw-notes/firmware/build.sh first.`);
    process.exit(2);
  }
  const elf = new Elf(file);
  const result = run(elf);
  console.log(`${name}: ${result.instructions} instructions in ${result.seconds.toFixed(1)} s`);
  await test(`${name} runs to its end and touches nothing that is not its own`, () => {
    must(result.complaints.size === 0, [...result.complaints].join('\n  '));
  });
  await test(`${name} has nothing in it that panics`, () => {
    const panics = elf.functions().filter((f) => /panicking|begin_unwind/.test(f.name));
    must(panics.length === 0, panics.map((f) => f.name).join('\n  '));
  });
  return [elf, result];
}

const [elf, measured] = await binary('measure');
await test('costs are as they were', () => {
  snapshot('cost.snap', costs(elf, measured), elf);
});
for (const [name, most] of CYCLES) {
  await test(`${name}: at most ${most / 125_000} ms`, () => {
    const operation = measured.operations.find((o) => o.name === name);
    must(operation, 'it was not measured');
    must(operation.cycles <= most, `it takes ${operation.cycles / 125_000} ms`);
  });
}
await test('flash and memory are kept to', () => {
  const [code, pack, ram] = [flash(elf, measured), measured.figures.get('pack, bytes'), memory(measured)];
  must(code <= FLASH, `${code} bytes of flash without the pack`);
  must(pack <= PACK, `a pack of ${pack} bytes`);
  must(ram <= RAM, `${ram} bytes of memory`);
});

const [, bits] = await binary('bits');
await test('every chance has the same bits on the unit and on the host', () => {
  const [head, ...rows] = readFileSync(path.join(here, 'bits.snap'), 'utf8').trimEnd().split('\n');
  const pack = hex(bits.figures.get('pack'));
  must(head === `pack ${pack}`, `bits.snap is of ${head}, the unit has pack ${pack}`);
  const found = bits.hashes.map((hash, set) => `${set} ${hex(hash)}`);
  must(rows.length === 1000 && found.length === 1000, `${rows.length} sets in bits.snap, ${found.length} on the unit`);
  must(rows.every((row, i) => row === found[i]), difference(rows.join('\n'), found.join('\n')));
});

await desk({ firmware: path.join(built, 'unit/unit'), target, hosts });
finish();
