// The bench unit without a board: an RP2040 in an emulator that runs a binary of
// hw-notes/firmware, counts what it costs and listens to its marks (the numbers
// are in hw-notes/firmware/src/marks.rs).
//
// No boot ROM is needed: the vector table is in flash and the binaries call no
// ROM routine. Cycles are those of a Cortex-M0+ with no wait states; waits for
// flash that is not in the chip's cache come on top.
import { createRequire } from 'node:module';
import { hex } from './elf.mjs';
// The package's ES modules are not marked as such; its other build is.
const { RP2040 } = createRequire(import.meta.url)('rp2040js');

const FLASH = 0x10000000;
const FLASH_END = 0x11000000;
const RAM = 0x20000000;
const VECTORS = FLASH + 0x100;
const [BEGIN, END, FIGURE, HASH, DONE, BROKEN, PANIC] = [0x10, 0x11, 0x12, 0x13, 0x1f, 0x2f, 0xee];
// Far more than any of the binaries takes.
const MOST_INSTRUCTIONS = 20e9;

/** What one run of a binary came to. */
export class Run {
  operations = []; // { name, instructions, cycles, stack }
  figures = new Map();
  hashes = [];
  stack = 0; // bytes, at most
  complaints = new Set(); // what must not happen
  seconds = 0;
}

/**
 * Runs a binary until it says that it is done. With `profile`, each operation
 * also has `counts`: address → cycles spent there.
 */
export function run(elf, { profile = false } = {}) {
  const began = performance.now();
  const result = new Run();
  const mcu = new RP2040();
  const { core } = mcu;
  const complain = (from, text) => result.complaints.add(`${from}: ${text} (at ${hex(core.PC)})`);
  mcu.logger = { debug() {}, info() {}, warn: complain, error: complain };
  for (const { address, bytes } of elf.segments) {
    if (address < FLASH || address + bytes.length > FLASH_END) {
      throw new Error(`a segment at ${hex(address)} is not in flash`);
    }
    mcu.flash.set(bytes, address - FLASH);
  }
  const flashed = mcu.flash.slice();
  core.VTOR = VECTORS;
  core.reset();

  const top = core.SP;
  let [instructions, lowest] = [0, top];
  let open; // the operation under way
  let ended;
  const r = core.registers;
  const name = () => {
    const start = (r[0] >>> 0) - FLASH;
    return Buffer.from(mcu.flash.subarray(start, start + (r[1] >>> 0))).toString('utf8');
  };
  mcu.onBreak = (mark) => {
    switch (mark) {
      case BEGIN:
        if (open) throw new Error(`«${name()}» begins before «${open.name}» ends`);
        result.stack = Math.max(result.stack, top - lowest);
        open = { name: name(), instructions, cycles: core.cycles, sp: core.SP };
        if (profile) open.counts = new Map();
        lowest = core.SP;
        break;
      case END: {
        if (!open) throw new Error('an operation ends that did not begin');
        const { name, sp, counts } = open;
        // The mark itself is the one instruction that is not counted.
        const [spent, cycles] = [instructions - open.instructions - 1, core.cycles - open.cycles - 1];
        result.operations.push({ name, instructions: spent, cycles, stack: sp - lowest, counts });
        result.stack = Math.max(result.stack, top - lowest);
        open = undefined;
        break;
      }
      case FIGURE:
        result.figures.set(name(), r[2] >>> 0);
        break;
      case HASH:
        result.hashes[r[0] >>> 0] = r[1] >>> 0;
        break;
      case DONE:
        ended = 'done';
        break;
      case BROKEN:
        ended = 'broken';
        complain('binary', 'something it takes for granted is not so');
        break;
      case PANIC:
        ended = 'panicked';
        complain('binary', 'it panicked');
        break;
      default:
        ended = 'stopped';
        complain('binary', `a breakpoint ${hex(mark)} that nobody set`);
    }
  };

  const SP = 13;
  const step = profile
    ? () => {
        const at = core.PC;
        const cycles = core.executeInstruction();
        open?.counts.set(at, (open.counts.get(at) ?? 0) + cycles);
      }
    : () => core.executeInstruction();
  while (!ended) {
    // In short stretches, so that what is looked at rarely costs nothing.
    for (let i = 0; i < 10_000 && !ended; i++) {
      step();
      instructions++;
      if (r[SP] >>> 0 < lowest) lowest = r[SP] >>> 0;
    }
    if (instructions > MOST_INSTRUCTIONS || core.waiting) {
      ended = 'hangs';
      complain('binary', 'it does not end');
    }
    if (result.complaints.size > 20) ended = 'stopped';
  }
  if (Buffer.compare(mcu.flash, flashed) !== 0) complain('flash', 'the binary wrote to it');
  if (top - lowest > top - RAM) complain('stack', 'it left its region');
  result.stack = Math.max(result.stack, top - lowest);
  result.instructions = instructions;
  result.seconds = (performance.now() - began) / 1000;
  return result;
}
