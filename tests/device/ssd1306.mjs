// What an SSD1306 is told over I²C, as a picture of 128 × 64 pixels.
//
// Only what a driver sends is decoded (SSD1306 datasheet, section 10); a command
// that is not known is a complaint.
import { crc32 } from './crc.mjs';

const [WIDTH, HEIGHT] = [128, 64];
// Bytes that follow a command's first.
const FOLLOW = new Map([
  ...[0x20, 0x81, 0x8d, 0xa8, 0xd3, 0xd5, 0xd9, 0xda, 0xdb].map((c) => [c, 1]),
  ...[0x21, 0x22].map((c) => [c, 2]),
]);

export class Ssd1306 {
  memory = new Uint8Array(WIDTH * 8);
  on = false;
  inverted = false;
  fromRight = true; // segment remap off
  fromBottom = true; // COM scan normal
  contrast = 0x7f;
  received = 0; // bytes of pictures
  complaints = new Set();
  #columns = [0, 127];
  #pages = [0, 7];
  #mode = 2;
  #at = { column: 0, page: 0 };
  #expects = 'control';
  #single = false;
  #command = [];

  /** A transfer begins. */
  start() {
    this.#expects = 'control';
    this.#command = [];
  }

  /** A byte comes in. */
  write(byte) {
    if (this.#expects === 'control') {
      this.#single = (byte & 0x80) !== 0;
      this.#expects = byte & 0x40 ? 'data' : 'command';
      return;
    }
    if (this.#expects === 'data') this.#data(byte);
    else this.#part(byte);
    if (this.#single) this.#expects = 'control';
  }

  #data(byte) {
    const at = this.#at;
    this.memory[at.page * WIDTH + at.column] = byte;
    this.received++;
    const next = (value, [first, last]) => (value === last ? first : value + 1);
    const column = () => (at.column = next(at.column, this.#columns)) === this.#columns[0];
    const page = () => (at.page = next(at.page, this.#pages)) === this.#pages[0];
    if (this.#mode === 0) column() && page();
    else if (this.#mode === 1) page() && column();
    else column();
  }

  #part(byte) {
    this.#command.push(byte);
    const [code, ...rest] = this.#command;
    if (rest.length < (FOLLOW.get(code) ?? 0)) return;
    this.#command = [];
    const at = this.#at;
    if (code < 0x10) at.column = (at.column & 0xf0) | code;
    else if (code < 0x20) at.column = (at.column & 0x0f) | ((code & 7) << 4);
    else if (code === 0x20) this.#mode = rest[0] & 3;
    else if (code === 0x21) [this.#columns, at.column] = [rest, rest[0]];
    else if (code === 0x22) [this.#pages, at.page] = [rest, rest[0]];
    else if (code === 0x81) [this.contrast] = rest;
    else if (code === 0xa0 || code === 0xa1) this.fromRight = code === 0xa0;
    else if (code === 0xa6 || code === 0xa7) this.inverted = code === 0xa7;
    else if (code === 0xae || code === 0xaf) this.on = code === 0xaf;
    else if (code >= 0xb0 && code < 0xb8) at.page = code & 7;
    else if (code === 0xc0 || code === 0xc8) this.fromBottom = code === 0xc0;
    // Set once, and of no effect on the picture here: start line 0, all-on off,
    // no scrolling, and the electrical settings.
    else if (![0x40, 0xa4, 0x2e].includes(code) && !FOLLOW.has(code)) {
      this.complaints.add(`the display knows no command 0x${code.toString(16)}`);
    }
  }

  /** Whether a pixel is lit, as seen with the usual module the right way up. */
  lit(x, y) {
    if (!this.on) return false;
    const column = this.fromRight ? WIDTH - 1 - x : x;
    const row = this.fromBottom ? HEIGHT - 1 - y : y;
    const bit = (this.memory[(row >> 3) * WIDTH + column] >> (row & 7)) & 1;
    return (bit === 1) !== this.inverted;
  }

  /** A check sum of what is to be seen: eight pixels a byte, row by row. */
  sum() {
    const bytes = new Uint8Array((WIDTH * HEIGHT) / 8);
    for (let y = 0; y < HEIGHT; y++) {
      for (let x = 0; x < WIDTH; x++) {
        if (this.lit(x, y)) bytes[(y * WIDTH + x) >> 3] |= 0x80 >> (x & 7);
      }
    }
    return crc32(bytes);
  }

  /** Half blocks: two rows of pixels a line. */
  text() {
    const lines = [];
    for (let y = 0; y < HEIGHT; y += 2) {
      let line = '';
      for (let x = 0; x < WIDTH; x++) {
        line += [' ', '▀', '▄', '█'][Number(this.lit(x, y)) + 2 * Number(this.lit(x, y + 1))];
      }
      lines.push(line.trimEnd());
    }
    return lines.join('\n') + '\n';
  }
}
