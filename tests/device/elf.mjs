// ELF files for 32-bit little-endian ARM: what goes into flash, and what is called how.
import { readFileSync } from 'node:fs';

/** An ELF file for 32-bit little-endian ARM. */
export class Elf {
  constructor(path) {
    this.path = path;
    this.bytes = readFileSync(path);
    const view = new DataView(this.bytes.buffer, this.bytes.byteOffset, this.bytes.length);
    const [u32, u16] = [(at) => view.getUint32(at, true), (at) => view.getUint16(at, true)];
    if (u32(0) !== 0x464c457f || this.bytes[4] !== 1 || u16(18) !== 40) {
      throw new Error(`${path} is not a 32-bit ARM ELF file`);
    }
    this.segments = [];
    for (let i = 0, at = u32(28); i < u16(44); i++, at += u16(42)) {
      const [type, offset, , address, size] = [0, 4, 8, 12, 16].map((k) => u32(at + k));
      if (type === 1 && size > 0) {
        this.segments.push({ address, bytes: this.bytes.subarray(offset, offset + size) });
      }
    }
    const section = (i) => {
      const at = u32(32) + i * u16(46);
      const [name, type, , address, offset, size, link] = [0, 1, 2, 3, 4, 5, 6].map((k) => u32(at + 4 * k));
      return { name, type, address, offset, size, link };
    };
    const text = (table, at) => {
      const start = table.offset + at;
      return this.bytes.toString('latin1', start, this.bytes.indexOf(0, start));
    };
    const all = Array.from({ length: u16(48) }, (_, i) => section(i));
    const names = all[u16(50)];
    this.sections = new Map(all.map((s) => [text(names, s.name), s]));
    this.symbols = [];
    for (const table of all.filter((s) => s.type === 2)) {
      for (let at = table.offset; at < table.offset + table.size; at += 16) {
        const [name, address, size] = [text(all[table.link], u32(at)), u32(at + 4), u32(at + 8)];
        const type = this.bytes[at + 12] & 15;
        this.symbols.push({ name, address, size, isFunction: type === 2, isObject: type === 1 });
      }
    }
  }

  /** Bytes that a section takes; 0 if there is none. */
  size(section) {
    return this.sections.get(section)?.size ?? 0;
  }

  /** Where the program says that it could panic: file, line and column of each place. */
  panics() {
    const found = new Map();
    for (const { bytes } of this.segments) {
      for (let at = 0; at + 16 <= bytes.length; at += 4) {
        const [name, length, line, column] = [0, 4, 8, 12].map((k) => bytes.readUInt32LE(at + k));
        if (length < 4 || length > 300 || line === 0 || line > 100_000 || column === 0 || column > 1000) continue;
        const file = this.text(name, length);
        if (file && /^[\x20-\x7e]+\.rs$/.test(file)) found.set(`${file}:${line}:${column}`, { file, line, column });
      }
    }
    return [...found.values()];
  }

  /** The text that a program finds at an address. */
  text(address, length) {
    const within = this.segments.find((s) => address >= s.address && address + length <= s.address + s.bytes.length);
    const at = address - within?.address;
    return within?.bytes.toString('latin1', at, at + length);
  }

  /** Functions in order of address, with the low bit of each address clear. */
  functions() {
    return this.symbols
      .filter((s) => s.isFunction && s.size > 0)
      .map((s) => ({ ...s, address: (s.address & ~1) >>> 0 }))
      .sort((a, b) => a.address - b.address);
  }
}

export const hex = (n) => `0x${(n >>> 0).toString(16)}`;
