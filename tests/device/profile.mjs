// Where the cycles of an operation go, by function, from the debug information of
// the binary (needs llvm-symbolizer).
//
//   node profile.mjs 'settle, from nothing' [ELF]
//   node profile.mjs --inlined 'settle, from nothing'     by the innermost function
//   node profile.mjs --lines 'settle, from nothing'       by source line
import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import path from 'node:path';
import { Elf, hex } from './elf.mjs';
import { run } from './measure.mjs';

const options = process.argv.slice(2).filter((a) => a.startsWith('--'));
const [wanted, file] = process.argv.slice(2).filter((a) => !a.startsWith('--'));
const here = path.dirname(fileURLToPath(import.meta.url));
const target = process.env.CARGO_TARGET_DIR ?? path.join(here, '../../hw-notes/firmware/target');
const elf = new Elf(file ?? path.join(target, 'thumbv6m-none-eabi/release/measure'));
const result = run(elf, { profile: true });
const operation = result.operations.find((o) => o.name === wanted);
if (!operation) {
  const names = result.operations.map((o) => `  ${o.name}`).join('\n');
  console.error(`There is no operation of that name. There are:\n${names}`);
  process.exit(2);
}

/** For each address, what it belongs to: innermost function first. */
function symbolized(addresses) {
  const output = execFileSync(
    'llvm-symbolizer',
    ['--obj=' + elf.path, '--output-style=LLVM', '--inlines', '--demangle', '--basenames'],
    { input: addresses.map(hex).join('\n'), encoding: 'utf8', maxBuffer: 1 << 30 },
  );
  const blocks = output.trimEnd().split('\n\n');
  return new Map(
    addresses.map((address, i) => {
      const lines = blocks[i].split('\n');
      const frames = [];
      for (let k = 0; k + 1 < lines.length; k += 2) frames.push({ name: lines[k], line: lines[k + 1] });
      return [address, frames];
    }),
  );
}

const plain = (name) => name.replace(/::h[0-9a-f]{16}$/, '').replace(/ \(\.llvm\.\d+\)$/, '');
const frames = symbolized([...operation.counts.keys()]);
const sums = new Map();
for (const [address, cycles] of operation.counts) {
  const chain = frames.get(address);
  const inner = chain[0];
  const outer = chain[chain.length - 1];
  let key = plain(outer.name);
  if (options.includes('--inlined')) key = `${plain(outer.name)} < ${plain(inner.name)}`;
  if (options.includes('--lines')) key = `${inner.line.replace(/:\d+$/, '')}  ${plain(inner.name)}`;
  sums.set(key, (sums.get(key) ?? 0) + cycles);
}
const total = [...sums.values()].reduce((a, b) => a + b, 0);
console.log(`${wanted}: ${total} cycles`);
const rows = [...sums].sort((a, b) => b[1] - a[1]).slice(0, 40);
for (const [key, cycles] of rows) {
  console.log(`${((100 * cycles) / total).toFixed(1).padStart(5)} %  ${String(cycles).padStart(9)}  ${key}`);
}
