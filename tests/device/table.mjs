// The committed table of costs: one line an operation or figure, so that a change
// shows as changed lines.
const thousands = (n) => String(n).replace(/\B(?=(\d{3})+$)/g, ' ');

/** Lays out rows of texts and numbers, numbers to the right. */
export function layOut(rows) {
  const cells = rows.map((row) => row.map((cell) => (typeof cell === 'number' ? thousands(cell) : cell)));
  const widths = cells[0].map((_, i) => Math.max(...cells.map((row) => row[i].length)));
  const pad = (cell, i) => (i === 0 ? cell.padEnd(widths[i]) : cell.padStart(widths[i]));
  return cells.map((row) => row.map(pad).join('  ').trimEnd()).join('\n');
}

/** What a run cost, as text. */
export function costs(elf, run) {
  const milliseconds = (cycles) => (cycles / 125_000).toFixed(2);
  const operations = run.operations.map((o) => [
    o.name,
    o.instructions,
    o.cycles,
    milliseconds(o.cycles),
    o.stack,
  ]);
  const figures = [...run.figures].map(([name, value]) => [name, value]);
  figures.push(['stack at most, bytes', run.stack]);
  figures.push(['flash without the pack, bytes', flash(elf, run)]);
  return [
    'What the core costs on the bench unit: an RP2040 at 125 MHz, no wait states.',
    'Written by `UPDATE=1 node run.mjs`; counts are exact and the same on every run.',
    `Built by ${compiler(elf)}.`,
    '',
    layOut([['operation', 'instructions', 'cycles', 'ms', 'stack'], ...operations]),
    '',
    layOut([['figure', 'value'], ...figures]),
    '',
  ].join('\n');
}

/** The compiler that built a binary, by what it left in it. */
export function compiler(elf) {
  return /rustc version [^ \0]+/.exec(elf.bytes.toString('latin1'))?.[0] ?? 'an unknown compiler';
}

/** Whether two tables say the same but for numbers that differ by such a share at most. */
export function nearlyThe(expected, found, share) {
  const number = /\d+(?: \d{3})*(?:\.\d+)?/g;
  const shape = (text) => text.replace(/^Built by.*$/m, '').replace(number, '#').replace(/ +/g, ' ');
  const values = (text) =>
    (text.replace(/^Built by.*$/m, '').match(number) ?? []).map((n) => Number(n.replaceAll(' ', '')));
  const [a, b] = [values(expected), values(found)];
  return shape(expected) === shape(found) && a.every((x, i) => Math.abs(x - b[i]) <= share * Math.max(x, b[i]));
}

/** Flash that a binary's vectors, code and constants take. */
export function program(elf) {
  const sections = ['.vector_table', '.text', '.rodata', '.data'];
  return sections.reduce((sum, name) => sum + elf.size(name), 0);
}

/** Flash that the binary takes, the pack left out. */
export function flash(elf, run) {
  return program(elf) - run.figures.get('pack, bytes');
}

/** Memory for the piece and the deepest stack. */
export function memory(run) {
  const names = ['numbers', 'desks', 'parts', 'answers', 'checks to weigh', 'numbers to weigh with'];
  const areas = names.map((area) => run.figures.get(`${area}, bytes`));
  return areas.reduce((sum, bytes) => sum + bytes, run.stack);
}

/** The first lines that differ, for a message. */
export function difference(expected, found) {
  const [a, b] = [expected, found].map((text) => text.split('\n'));
  const lines = [];
  for (let i = 0; i < Math.max(a.length, b.length); i++) {
    if (a[i] !== b[i]) {
      if (a[i] !== undefined) lines.push(`  - ${a[i]}`);
      if (b[i] !== undefined) lines.push(`  + ${b[i]}`);
    }
  }
  return lines.slice(0, 40).join('\n');
}
