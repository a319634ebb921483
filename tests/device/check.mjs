// What the tests share: one test after another, and snapshots.
//
// UPDATE=1 writes the snapshots anew instead of comparing.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import path from 'node:path';
import { compiler, difference, nearlyThe } from './table.mjs';

const here = path.dirname(fileURLToPath(import.meta.url));
const update = process.env.UPDATE === '1';
let [passed, failed] = [0, 0];

/** Runs a test; what it throws is why it failed. */
export async function test(name, check) {
  const began = performance.now();
  try {
    await check();
    passed++;
    console.log(`ok      ${name} (${((performance.now() - began) / 1000).toFixed(1)} s)`);
  } catch (why) {
    failed++;
    console.log(`FAILED  ${name}\n${why.message}`);
  }
}

export function must(holds, otherwise) {
  if (!holds) throw new Error(`  ${otherwise}`);
}

/**
 * Compares with a committed text. Figures of a binary (`elf`) may differ by a thousandth:
 * the order of its functions, and so what is lost to alignment, follows from symbol names,
 * and those from the folder it was built in. Where another compiler built it (its name is
 * in the text), they may differ by a tenth.
 */
export function snapshot(name, found, elf) {
  const file = path.join(here, name);
  if (update) {
    writeFileSync(file, found);
    return;
  }
  const expected = existsSync(file) ? readFileSync(file, 'utf8') : '';
  if (elf && expected !== found) {
    const same = expected.includes(`Built by ${compiler(elf)}.`);
    if (nearlyThe(expected, found, same ? 0.001 : 0.1)) {
      const why = same ? 'all within a thousandth' : `built by ${compiler(elf)}; all within a tenth`;
      console.log(`        (figures differ from ${name}'s: ${why})`);
      return;
    }
  }
  must(expected === found, `${name} differs; UPDATE=1 accepts this:\n${difference(expected, found)}`);
}

/** Says how it went, and ends. */
export function finish() {
  console.log(`${passed} passed, ${failed} failed`);
  process.exit(failed === 0 ? 0 : 1);
}
