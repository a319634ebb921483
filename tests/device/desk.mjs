// The bench unit's firmware on the emulated board: what is seen, what is kept, what
// the host fetches. Pictures are left in the target folder for looking at.
import { execFileSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { Board, PowerCut, flashed, program } from './board.mjs';
import { tellmark } from './cable.mjs';
import { must, snapshot, test } from './check.mjs';
import { crc32 } from './crc.mjs';
import { Elf } from './elf.mjs';
import { png } from './png.mjs';
import { compiler, layOut, program as programSize } from './table.mjs';

const LOG = { start: 0x140000, end: 0x1c0000 };
const [FLASH, RAM] = [168, 96].map((kib) => kib * 1024);
const SECONDS = 1_000;
const LIGHT = 25; // the pin of the board's own light
const HARD_FAULT = 3;

/**
 * Tests the firmware, an ELF file. `target` has the file for the drive and takes the
 * pictures; `hosts` has the host's commands.
 */
export async function desk({ firmware, target, hosts }) {
  const elf = new Elf(firmware);
  const host = {
    command: path.join(hosts, 'debug/tellmark'),
    pty: path.join(hosts, 'debug/examples/pty'),
    cwd: mkdtempSync(path.join(tmpdir(), 'unit-')),
  };
  const round = path.join(hosts, 'debug/examples/bench_round');
  for (const file of [host.command, host.pty, round]) {
    if (!existsSync(file)) {
      console.error(`${file} is not there: cargo build -p tellmark -p tellmark-tests --examples`);
      process.exit(2);
    }
  }
  const pictures = path.join(target, 'pictures');
  mkdirSync(pictures, { recursive: true });
  const show = (board, name, without = []) => {
    writeFileSync(path.join(pictures, `${name}.png`), png(128, 64, (x, y) => board.display.lit(x, y)));
    const lines = board.display.text().split('\n');
    snapshot(`frames/${name}.txt`, lines.filter((_, i) => !without.includes(i)).join('\n'));
  };
  const costs = [];

  await test('nothing of the core that could panic is in it', () => {
    // What the firmware itself and other people's libraries say shows that the places are found.
    const [files, core] = [elf.panics(), 'tellmark/core/src/'];
    must(files.some(({ file }) => file.startsWith('unit/src/')), 'no place that could panic is found at all');
    must(files.some(({ file }) => file.startsWith('crates/')), "the sources' folders are in it: see build.sh");
    const places = files.filter(({ file }) => file.startsWith(core));
    must(places.length === 0, places.map((p) => `${p.file}:${p.line}:${p.column}`).join('\n  '));
  });

  await test('it boots and asks which piece it is', () => {
    const board = new Board(flashed(elf));
    board.settle();
    board.assertWell();
    must(board.baud === 115_207, `the cable runs at ${board.baud} baud`);
    must(board.mcu.gpio[LIGHT].outputValue === false, 'its light is on');
    show(board, 'which-piece');
    costs.push(['from power to the first picture, ms', Math.round(board.now)]);
    const before = board.instructions;
    board.run(60 * SECONDS);
    costs.push(['instructions in a minute asleep', board.instructions - before]);
    board.run(180 * SECONDS);
    must(!board.display.on, 'after four minutes the display is still lit');
    board.press(0);
    must(board.display.on, 'a key does not light it');
    board.assertWell();
  });

  await test('a contact that bounces counts once', () => {
    const board = new Board(flashed(elf));
    board.settle();
    const before = board.display.sum();
    for (let i = 0; i < 5; i++) {
      board.key(2, true);
      board.run(3);
      board.key(2, false);
      board.run(2);
    }
    board.settle();
    must(board.display.sum() === before, 'bounces of 3 ms counted');
    for (const down of [true, false, true, false, true]) {
      board.key(2, down);
      board.run(1);
    }
    board.run(40);
    for (const down of [false, true, false, true, false]) {
      board.key(2, down);
      board.run(1);
    }
    board.settle();
    show(board, 'how-many-parts');
    board.assertWell();
  });

  await test('it works without its display, and shows it when it is plugged in again', () => {
    const board = new Board(flashed(elf));
    board.displayFitted = false;
    board.settle();
    must(board.mcu.gpio[LIGHT].outputValue === true, 'its light does not say so');
    board.displayFitted = true;
    board.press(1);
    must(board.mcu.gpio[LIGHT].outputValue === false, 'its light stays on');
    must(board.display.sum() !== 0 && board.display.on, 'nothing is shown');
    board.assertWell();
  });

  await test('a fault shows a screen, a key starts it again, the record is kept', () => {
    const flash = flashed(elf);
    let board = new Board(flash);
    board.settle();
    board.press(2);
    board.press(2);
    const [record, screen] = [flash.slice(LOG.start, LOG.end), board.display.sum()];
    board.mcu.core.exceptionEntry(HARD_FAULT);
    board.mcu.core.waiting = false;
    board.run(100);
    must(board.panicked, 'nobody noticed');
    board.panicked = false;
    // These lines say at which address; that depends on the build.
    show(board, 'stopped', [16, 17, 18, 19]);
    board.key(3, true);
    board.run(200);
    must(board.ended, 'a key does not start it again');
    board.assertWell();
    must(Buffer.compare(record, flash.slice(LOG.start, LOG.end)) === 0, 'the record has changed');
    board = new Board(flash, board);
    board.settle();
    must(board.display.sum() === screen, 'it does not take up where it was');
    board.assertWell();
  });

  const expected = JSON.parse(execFileSync(round, { maxBuffer: 1 << 26 }));
  const flash = flashed(elf);
  let board = new Board(flash);
  const before = new Map(expected.restored.map(({ key }) => [key, null])); // flash, before a key
  const press = (unit, i) => {
    unit.painted = undefined;
    unit.press(expected.keys[i]);
    // What was noted is said for a moment, and then is not.
    unit.run(2 * SECONDS);
    unit.settle();
  };

  await test('a chest of four drawers, looked over whole: every picture as on the host', () => {
    board.settle();
    must(expected.first.includes(board.display.sum()), 'the first picture differs');
    // By how many keys from the beginning, or before the end.
    const named = new Map([
      [1, 'first-question'],
      [30, 'in-the-round'],
      [-38, 'all-done'],
      [-34, 'likely-faults'],
      [-33, 'a-likely-fault'],
      [-29, 'what-to-look-at-next'],
      [-24, 'jobs'],
    ]);
    let longest = 0;
    let [total, painted] = [0, 0];
    for (let i = 0; i < expected.keys.length; i++) {
      if (before.has(i)) before.set(i, flash.slice());
      const began = board.now;
      press(board, i);
      // Some keys do nothing where they are pressed.
      if (board.painted !== undefined) {
        longest = Math.max(longest, board.painted - began);
        total += board.painted - began;
        painted++;
      }
      must(expected.frames[i].includes(board.display.sum()), `the picture after key ${i} differs:\n${board.display.text()}`);
      const name = named.get(i - expected.keys.length) ?? named.get(i);
      if (name) show(board, name);
      if (board.complaints.size > 0) break;
    }
    costs.push(['from a key to the whole picture, ms, at most', Math.round(longest)]);
    costs.push(['the same, on average over a round', Math.round(total / painted)]);
    board.assertWell();
  });

  await test('the numbers that the chances come from have the same bits as on the host', () => {
    const room = elf.symbols.find((s) => s.isObject && /ROOM/.test(s.name));
    must(room, 'no symbol says where they are');
    const at = room.address - 0x20000000;
    const numbers = board.mcu.sram.subarray(at, at + 4 * expected.numbers.count);
    must(crc32(numbers) === expected.numbers.sum, 'they differ');
  });

  await test('the host fetches what was noted, once, in the words of its own bench screen', async () => {
    const fetch = ['unit', 'fetch', 'chest', '--port', '{port}', '--json'];
    const first = await tellmark(board, host, ...fetch);
    must(first.code === 0, `exit code ${first.code}: ${first.err}`);
    const fetched = JSON.parse(first.out);
    must(fetched.notes === expected.notes, `${fetched.notes} notes of ${expected.notes}`);
    must(fetched.damaged === 0 && fetched.not_in_these_words === 0 && !fetched.more, first.out);
    // Without remarks and dates.
    const lines = fetched.lines.filter((l) => !l.startsWith('#')).map((l) => l.replace(/^\S+ \S+ +/, ''));
    const differs = lines.findIndex((line, i) => line !== expected.lines[i]);
    must(lines.length === expected.lines.length && differs < 0, `line ${differs}: ${lines[differs]}`);
    const again = await tellmark(board, host, ...fetch);
    must(again.code === 0 && JSON.parse(again.out).notes === 0, `again: ${again.out}${again.err}`);
    board.assertWell();
  });

  await test('triage and next look are the same from the unit as from the host', () => {
    const ask = (...args) => JSON.parse(execFileSync(host.command, [...args, '--json'], { cwd: host.cwd }));
    // The two records have other remarks between the findings, and other names.
    const same = (name, value) => (['line', 'job'].includes(name) ? undefined : value);
    execFileSync(host.command, ['open', 'chest of drawers', '--name', 'other'], { cwd: host.cwd });
    // What was heeded, and that it is finished, are no findings.
    const findings = expected.lines.filter((line) => !/^(heeded|finished): /.test(line));
    for (const line of findings) {
      execFileSync(host.command, ['note', 'other', line], { cwd: host.cwd });
    }
    for (const what of ['triage', 'next']) {
      const [fetched, noted] = ['chest', 'other'].map((job) => JSON.stringify(ask(what, job), same));
      const at = [...fetched].findIndex((letter, i) => letter !== noted[i]);
      must(fetched === noted, `${what} differs:\n${fetched.slice(at - 200, at + 200)}\n${noted.slice(at - 200, at + 200)}`);
    }
  });

  await test('power cut while an answer is written: at most that answer is lost', () => {
    for (const { key, frames } of expected.restored) {
      for (const bytes of [0, 5, 255]) {
        const flash = before.get(key).slice();
        let unit = new Board(flash);
        unit.settle();
        must(frames.includes(unit.display.sum()), `before key ${key}:\n${unit.display.text()}`);
        unit.cutAt((kind) => (kind === 'program' ? bytes : undefined));
        let cut = false;
        try {
          press(unit, key);
        } catch (why) {
          if (!(why instanceof PowerCut)) throw why;
          cut = true;
        }
        must(cut, 'nothing was written');
        unit.assertWell();
        unit = new Board(flash);
        unit.settle();
        must(frames.includes(unit.display.sum()), `after the cut at key ${key}:\n${unit.display.text()}`);
        press(unit, key);
        must(expected.frames[key].includes(unit.display.sum()), `going on:\n${unit.display.text()}`);
        unit.assertWell();
      }
    }
  });

  await test('a new program leaves the record alone', () => {
    program(flash, elf);
    const unit = new Board(flash);
    unit.settle();
    must(!expected.first.includes(unit.display.sum()), 'the piece is gone');
    unit.assertWell();
    const uf2 = readFileSync(path.join(target, 'tellmark-unit.uf2'));
    for (let at = 0; at < uf2.length; at += 512) {
      const to = uf2.readUInt32LE(at + 12) - 0x10000000;
      must(to < 0xc0000, `the file for the drive writes to ${to.toString(16)}`);
      must(uf2.readUInt32LE(at + 28) === 0xe48bff56, 'it is for another chip');
    }
  });

  await test('the house sends its own rules; the unit takes them up', async () => {
    const pack = path.join(host.cwd, 'house.pack');
    execFileSync(host.command, ['build', '--families', 'none', '--out', pack], { cwd: host.cwd });
    const sent = await tellmark(board, host, 'unit', 'send', pack, '--port', '{port}', '--json');
    must(sent.code === 0, `exit code ${sent.code}: ${sent.err}`);
    must(board.ended, 'it did not start again');
    board.assertWell();
    board = new Board(flash, board);
    board.settle();
    board.assertWell();
    const found = await tellmark(board, host, 'unit', 'find', '--port', '{port}', '--json');
    must(found.code === 0, `exit code ${found.code}: ${found.err}`);
    must(JSON.parse(found.out).ports[0].pack_of_these_rules, found.out);
    board.assertWell();
  });

  await test('what it takes is as it was, and within what there is', () => {
    const still = ['.data', '.bss', '.uninit'].reduce((sum, name) => sum + elf.size(name), 0);
    const code = programSize(elf);
    costs.push(['flash, the pack left out, bytes', code]);
    costs.push(['of which constants, bytes', elf.size('.rodata')]);
    costs.push(['memory set aside, bytes', still]);
    costs.push(['stack at most, bytes', board.stack]);
    must(code <= FLASH, `${code} bytes of flash`);
    must(still + board.stack <= RAM, `${still + board.stack} bytes of memory`);
    snapshot(
      'unit.snap',
      [
        "What the bench unit's firmware takes: an RP2040 at 125 MHz, no wait states.",
        'Written by `UPDATE=1 node run.mjs`; the same on every run.',
        `Built by ${compiler(elf)}.`,
        '',
        layOut([['figure', 'value'], ...costs]),
        '',
      ].join('\n'),
      elf,
    );
  });
  rmSync(host.cwd, { recursive: true });
}
