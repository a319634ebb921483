// A ROM for the emulated chip, of our own: the real one is not ours to ship and its
// flash routines do not work in the emulator.
//
// The look-up function and every function that it finds are a breakpoint and a
// return; what they do is done here. The layout of the look-up (a version at 0x13,
// tables at 0x14 and 0x16, the function at 0x18) is described in the RP2040
// datasheet, section 2.8.
import { hex } from './elf.mjs';

const [FUNCTIONS, DATA, FIRST] = [0x30, 0x34, 0x40];
const LOOK_UP = 0x7f;
const [SECTOR, PAGE] = [4096, 256];
const MILLISECOND = 1e6;
// Typical figures of the W25Q16JV on the Pico (its datasheet, section 9.6): 45 ms a
// sector, 0.4 ms a page.
const [ERASING, PROGRAMMING] = [45 * MILLISECOND, 0.4 * MILLISECOND];

/** Thrown to end what is running when the power is cut. */
export class PowerCut extends Error {}

/**
 * Puts the ROM in. `host` is told of what happens:
 *   leaveFlash(), enterFlash()   flash cannot / can be read by the program
 *   pass(nanoseconds)            time goes by
 *   cut(kind, bytes)             how many bytes of a change are done before the
 *                                power is cut; undefined for all
 *   changed(kind, at, bytes)     flash was changed
 *   complain(text)
 */
export function installRom(mcu, host) {
  const { core, flash } = mcu;
  const r = core.registers;
  const arg = (i) => r[i] >>> 0;
  // About what the real ones take: a word in two cycles.
  const words = (n) => (core.cycles += 20 + (n >> 1));
  const functions = {
    // Bits of a word.
    P3: () => (r[0] = bits(arg(0))),
    R3: () => (r[0] = reversed(arg(0))),
    L3: () => (r[0] = Math.clz32(r[0])),
    T3: () => (r[0] = arg(0) ? 31 - Math.clz32(r[0] & -r[0]) : 32),
    // Memory: set and copied, by bytes and by words.
    MS: () => set(),
    S4: () => set(),
    MC: () => copy(),
    C4: () => copy(),
    // Flash.
    IF: () => {},
    EX: () => host.leaveFlash(),
    CX: () => host.enterFlash('slow'),
    FC: () => {},
    RE: () => {
      const [at, length] = [arg(0), arg(1)];
      if (at % SECTOR || length % SECTOR) host.complain(`erases ${length} bytes at ${hex(at)}`);
      change('erase', at, length, (part) => flash.fill(0xff, at, at + part));
      host.pass((ERASING * length) / SECTOR);
    },
    RP: () => {
      const [at, from, length] = [arg(0), arg(1), arg(2)];
      if (at % PAGE || length % PAGE) host.complain(`programs ${length} bytes at ${hex(at)}`);
      if (from >>> 28 !== 2) host.complain(`programs flash from ${hex(from)}, which is not in RAM`);
      change('program', at, length, (part) => {
        // Bits only fall.
        for (let i = 0; i < part; i++) flash[at + i] &= mcu.readUint8(from + i);
      });
      host.pass((PROGRAMMING * length) / PAGE);
    },
  };
  function set() {
    for (let i = 0; i < arg(2); i++) mcu.writeUint8(arg(0) + i, r[1] & 0xff);
    words(arg(2));
  }
  function copy() {
    for (let i = 0; i < arg(2); i++) mcu.writeUint8(arg(0) + i, mcu.readUint8(arg(1) + i));
    words(arg(2));
  }
  function change(kind, at, length, make) {
    const part = host.cut(kind, at, length);
    make(part ?? length);
    host.changed(kind, at, part ?? length);
    if (part !== undefined) throw new PowerCut();
  }

  const names = Object.keys(functions);
  const rom = new DataView(mcu.bootrom.buffer);
  const address = (i) => FIRST + 4 * i;
  const put = (i, mark) => {
    rom.setUint16(address(i), 0xbe00 | mark, true); // BKPT mark
    rom.setUint16(address(i) + 2, 0x4770, true); // BX LR
  };
  rom.setUint8(0x13, 2);
  rom.setUint16(0x14, FUNCTIONS, true);
  rom.setUint16(0x16, DATA, true);
  rom.setUint16(0x18, address(0) | 1, true);
  put(0, LOOK_UP);
  names.forEach((_, i) => put(i + 1, 0x80 + i));

  mcu.onBreak = (mark) => {
    if (mark === LOOK_UP) {
      const name = String.fromCharCode(r[1] & 0xff, (r[1] >> 8) & 0xff);
      const i = names.indexOf(name);
      if (arg(0) !== FUNCTIONS || i < 0) host.complain(`looks for ${name} in table ${hex(arg(0))}`);
      r[0] = address(i + 1) | 1;
    } else if (names[mark - 0x80]) {
      functions[names[mark - 0x80]]();
    } else {
      host.complain(`a breakpoint ${hex(mark)} that nobody set`);
    }
  };
}

function bits(word) {
  let n = 0;
  for (; word; word = (word & (word - 1)) >>> 0) n++;
  return n;
}

function reversed(word) {
  let to = 0;
  for (let i = 0; i < 32; i++) to = (to << 1) | ((word >>> i) & 1);
  return to;
}
