// The bench unit on the desk: an emulated RP2040 running the real firmware, with a
// display, four keys, a cable, and a plug that can be pulled.
//
// What must never happen is a complaint: reading or running from flash while it is
// being changed, an address that is not there, a write to flash past the ROM, a
// stack that leaves its region, a byte lost on the cable, a register the emulator
// does not know. `assertWell` fails on any, and on a panic nobody asked for.
import { createRequire } from 'node:module';
import { hex } from './elf.mjs';
import { PowerCut, installRom } from './rom.mjs';
import { Ssd1306 } from './ssd1306.mjs';
// The package's ES modules are not marked as such; its other build is. Its clock is
// not exported but for in here.
const { Simulator } = createRequire(import.meta.url)('rp2040js');

export { PowerCut };

const [FLASH, RAM] = [0x10000000, 0x20000000];
const FLASH_SIZE = 2 * 1024 * 1024;
const VECTORS = FLASH + 0x100;
const BOOT = 0x20041f00; // where the ROM copies the boot code
const FIRST_KEY = 10;
const DISPLAY = 0x3c;
const NANOSECONDS_A_CYCLE = 8; // 125 MHz
const NANOSECONDS_A_BYTE = 22_500; // nine bits at 400 kHz
const PAUSE = 5; // milliseconds between bytes of one picture, at most
const NANOSECONDS_A_CHARACTER = 86_806; // ten bits at 115,200 baud
const FAULT = 0x7e11fa17; // see fault.rs
const [SSI_ENABLE, SSI_STATUS, SSI_DATA, SELECT] = [0x08, 0x28, 0x60, 0x0c];
// The flash chip's command for its number (W25Q16JV datasheet, section 8.2), and it.
const READ_NUMBER = 0x4b;
const NUMBER = [0xe6, 0x60, 0x58, 0x38, 0x83, 0x4a, 0x2b, 0x11];
const [I2C_DATA, I2C_EMPTY, I2C_ABORTED] = [0x10, 1 << 4, 1 << 6];
const SP = 13;
// What the HAL does on the way that the emulator has no register for, and that has
// no effect here.
const HARMLESS = [/^ROSC_BASE: /, /IC_SDA_HOLD/, /^VREG_AND_CHIP_RESET_BASE: /];

/** Two megabytes of flash with a program in it, the rest erased. */
export function flashed(elf) {
  const flash = new Uint8Array(FLASH_SIZE).fill(0xff);
  program(flash, elf);
  return flash;
}

/** Puts a program into flash; what it has nothing for stays as it was. */
export function program(flash, elf) {
  for (const { address, bytes } of elf.segments) {
    if (address < FLASH || address + bytes.length > FLASH + FLASH_SIZE) {
      throw new Error(`a segment at ${hex(address)} is not in flash`);
    }
    flash.set(bytes, address - FLASH);
  }
}

export class Board {
  complaints = new Set();
  display = new Ssd1306();
  displayFitted = true;
  panicked = false;
  lost = 0; // bytes on the cable that the chip had no room for
  instructions = 0;
  stack = 0; // bytes, at most
  changes = []; // { kind, at, bytes }: what was done to flash
  onByte = () => {}; // a byte on the cable, from the unit
  painted; // when the first picture since this was last cleared was all there
  #cable = []; // bytes on their way to the unit
  #feeding = false;
  #readable = false;
  #slow = false;
  #selected = false; // the flash chip, by hand
  #ended = false;
  #nextCut = () => undefined;
  #top; // of the stack

  /**
   * Plugs it in. `flash` is used as it is, and changed. After a restart, `before`
   * is the unit that restarted: its watchdog remembers.
   */
  constructor(flash, before) {
    const { clock, rp2040: mcu } = new Simulator();
    Object.assign(this, { clock, mcu });
    const complain = (from, text) => this.#complain(`${from}: ${text}`);
    mcu.logger = { debug() {}, info() {}, warn: complain, error: complain };
    mcu.flash = flash;
    mcu.flash16 = new Uint16Array(flash.buffer);
    mcu.flashView = new DataView(flash.buffer);
    this.flash = flash;
    installRom(mcu, {
      leaveFlash: () => (this.#readable = false),
      enterFlash: () => ((this.#readable = true), (this.#slow = true)),
      pass: (nanoseconds) => clock.tick(nanoseconds),
      cut: (kind, at, bytes) => this.#nextCut(kind, at, bytes),
      changed: (kind, at, bytes) => this.changes.push({ kind, at, bytes }),
      complain: (text) => this.#complain(text),
    });
    this.#guardMemory();
    this.#watchFlashController();
    this.#connectDisplay();
    this.#connectCable();
    // Pull-ups, nothing pressed.
    for (const pin of mcu.gpio) pin.setInputValue(true);
    this.#top = new DataView(flash.buffer).getUint32(VECTORS - FLASH, true);
    this.#correctSleep();
    const watchdog = mcu.peripherals[0x40058];
    if (before) {
      const { scratchData, reason } = before.mcu.peripherals[0x40058];
      Object.assign(watchdog, { scratchData, reason });
    }
    watchdog.onWatchdogTrigger = () => {
      this.#ended = true;
      watchdog.timer.enable = false; // or it would trigger again at once, for ever
    };
    const write = watchdog.writeUint32.bind(watchdog);
    watchdog.writeUint32 = (offset, value) => {
      if (offset === 0x1c && value >>> 0 === FAULT) this.panicked = true;
      write(offset, value);
    };
    this.#boot();
  }

  /**
   * As the chip's ROM does: the second stage of the boot code is copied into RAM and
   * runs there; it goes on to the program when it finds that nothing called it.
   */
  #boot() {
    const { core, sram } = this.mcu;
    sram.set(this.flash.subarray(0, 256), BOOT - RAM);
    this.#readable = false;
    core.VTOR = 0;
    core.registers[SP] = BOOT;
    core.registers[14] = 0;
    core.PC = BOOT;
  }

  #complain(text) {
    if (HARMLESS.some((harmless) => harmless.test(text))) return;
    this.complaints.add(`${text} (at ${hex(this.mcu.core.PC)})`);
  }

  /**
   * On the part, an interrupt ends a sleep though interrupts are held off, but its
   * handler waits until they are not; the emulator runs it at once.
   */
  #correctSleep() {
    const { core } = this.mcu;
    const check = core.checkForInterrupts.bind(core);
    core.checkForInterrupts = () => {
      if (!core.waiting || !core.PM) return check();
      core.interruptsUpdated = true;
      return (core.pendingInterrupts & core.enabledInterrupts) !== 0;
    };
  }

  /** Flash cannot be read while it is being changed, nor ever be written directly. */
  #guardMemory() {
    const { mcu } = this;
    const isFlash = (address) => address >>> 28 === 1;
    for (const size of ['Uint8', 'Uint16', 'Uint32']) {
      const [read, write] = [mcu[`read${size}`].bind(mcu), mcu[`write${size}`].bind(mcu)];
      mcu[`read${size}`] = (address) => {
        if (!this.#readable && isFlash(address)) {
          // The flash controller's registers are up there too.
          if (address >>> 24 !== 0x18) this.#complain(`reads ${hex(address)} while flash is changed`);
        }
        return read(address);
      };
      mcu[`write${size}`] = (address, value) => {
        if (isFlash(address) && address >>> 24 !== 0x18) this.#complain(`writes to ${hex(address)}`);
        write(address, value);
      };
    }
  }

  /**
   * Flash can be read again once its controller is on and set to do so. Asked for its
   * number, the flash chip gives it.
   */
  #watchFlashController() {
    const controller = this.mcu.peripherals[0x18000];
    const [read, write] = [controller.readUint32.bind(controller), controller.writeUint32.bind(controller)];
    const answers = [];
    let asked = [];
    controller.writeUint32 = (offset, value) => {
      write(offset, value);
      const reads = ((controller.crtlr0 >>> 8) & 3) === 3; // CTRLR0.TMOD: EEPROM read
      if (offset === SSI_ENABLE) {
        this.#readable = (value & 1) === 1 && reads;
        if (this.#readable) this.#slow = ((controller.crtlr0 >>> 21) & 3) === 0; // SPI_FRF: one line
      }
      if (offset === SSI_DATA && this.#selected) {
        asked.push(value & 0xff);
        answers.push(asked[0] === READ_NUMBER ? (NUMBER[asked.length - 6] ?? 0) : 0);
      }
    };
    controller.readUint32 = (offset) => {
      if (offset === SSI_DATA && this.#selected) return answers.shift() ?? 0;
      if (offset === SSI_STATUS && this.#selected) return 0x6 | (answers.length > 0 ? 0x8 : 0);
      return read(offset);
    };
    // GPIO_QSPI_SS_CTRL.OUTOVER: 2 holds the chip's select line low.
    let select = 0;
    const pins = this.mcu.peripherals[0x40018];
    pins.readUint32 = (offset) => (offset === SELECT ? select : 0);
    pins.writeUint32 = (offset, value) => {
      if (offset === SELECT) select = value;
      asked = [];
      this.#selected = ((select >>> 8) & 3) === 2;
    };
  }

  #connectDisplay() {
    const bus = this.mcu.i2c[1];
    const after = (done) => this.clock.createAlarm(done).schedule(NANOSECONDS_A_BYTE);
    bus.onStart = () => bus.completeStart();
    bus.onConnect = (address) => {
      const answers = this.displayFitted && address === DISPLAY;
      if (answers) this.display.start();
      after(() => bus.completeConnect(answers));
    };
    bus.onWriteByte = (byte) => {
      this.display.write(byte);
      if (this.painted === undefined || this.now - this.painted < PAUSE) this.painted = this.now;
      after(() => bus.completeWrite(this.displayFitted));
    };
    bus.onStop = () => bus.completeStop();
    // On the part, a transfer that nobody answers leaves the queue empty, says so, and
    // keeps it empty until the driver has seen why; the emulator does the first only.
    const [abort, write] = [bus.abort.bind(bus), bus.writeUint32.bind(bus)];
    bus.abort = (reason) => {
      abort(reason);
      bus.setInterrupts(I2C_EMPTY);
    };
    bus.writeUint32 = (offset, value) => {
      if (offset !== I2C_DATA || (bus.intRaw & I2C_ABORTED) === 0) write(offset, value);
    };
  }

  #connectCable() {
    const [uart] = this.mcu.uart;
    // The emulator keeps the transmit interrupt raised and knows nothing of three
    // registers, which it reads as all ones: a driver that asks «is DMA on?» is told
    // yes. The FIFO holds 32.
    const [read, write] = [uart.readUint32.bind(uart), uart.writeUint32.bind(uart)];
    const known = new Map([
      [0x04, 0],
      [0x34, 0x12],
      [0x48, 0],
    ]);
    uart.readUint32 = (offset) => known.get(offset) ?? read(offset);
    uart.writeUint32 = (offset, value) => known.has(offset) || write(offset, value);
    uart.checkInterrupts = () => {
      this.mcu.setInterrupt(uart.irq, (uart.interruptStatus & uart.interruptMask) !== 0);
    };
    uart.onByte = (byte) => this.onByte(byte);
    uart.onBaudRateChange = (rate) => (this.baud = rate);
  }

  /** Sends bytes to the unit, at the cable's own speed. */
  send(bytes) {
    this.#cable.push(...bytes);
    if (!this.#feeding) this.#feed();
  }

  #feed() {
    this.#feeding = this.#cable.length > 0;
    if (!this.#feeding) return;
    const [uart] = this.mcu.uart;
    this.clock
      .createAlarm(() => {
        const byte = this.#cable.shift();
        if (uart.rxFIFO.full) this.lost++;
        else uart.feedByte(byte);
        this.#feed();
      })
      .schedule(NANOSECONDS_A_CHARACTER);
  }

  /** Milliseconds since it was plugged in. */
  get now() {
    return this.clock.nanos / 1e6;
  }

  /** Flash is read over one line only, several times slower than it could be. */
  get slow() {
    return this.#slow;
  }

  /**
   * Cuts the power in the middle of a change to flash, by throwing `PowerCut`:
   * `choose(kind, at, bytes)` gives how many bytes of it are done, or undefined to
   * let it be.
   */
  cutAt(choose) {
    this.#nextCut = choose;
  }

  /**
   * Runs for so many milliseconds of the unit's time, or until `enough()` holds,
   * which is looked at whenever the unit falls asleep and every now and then.
   * Whether it did; it does not run on once it has restarted.
   */
  run(milliseconds, enough = () => false) {
    const end = this.clock.nanos + milliseconds * 1e6;
    const { clock } = this;
    const { core } = this.mcu;
    while (!this.#ended && this.complaints.size <= 20) {
      if (enough()) return true;
      if (clock.nanos >= end) return false;
      if (core.waiting) {
        const next = clock.nanosToNextAlarm || Infinity;
        clock.tick(Math.max(1, Math.min(next, end - clock.nanos)));
      } else {
        this.#execute(end);
      }
    }
    return enough();
  }

  /** Executes until it sleeps, for 10,000 instructions, or until `end`. */
  #execute(end) {
    const { clock } = this;
    const { core } = this.mcu;
    const r = core.registers;
    for (let i = 0; i < 10_000 && clock.nanos < end && !core.waiting && !this.#ended; i++) {
      if (!this.#readable && core.PC >>> 28 === 1) this.#complain('runs from flash while it is changed');
      // The ROM's stand-ins count their cycles themselves.
      const before = core.cycles;
      core.executeInstruction();
      this.instructions++;
      clock.tick((core.cycles - before) * NANOSECONDS_A_CYCLE);
      const depth = this.#top - r[SP];
      // Before the program begins, the stack is the ROM's.
      if (depth > this.stack && r[SP] < this.#top) this.stack = depth;
    }
    if (this.stack > this.#top - RAM) this.#complain('the stack leaves its region');
    if (core.waiting && core.checkForInterrupts()) core.waiting = false;
  }

  /** Whether it has started itself again; the new start is another `Board`. */
  get ended() {
    return this.#ended;
  }

  /** Presses a key and lets it go, with time for the unit to notice. */
  press(key, milliseconds = 30) {
    this.key(key, true);
    this.run(milliseconds);
    this.key(key, false);
    this.run(30);
    this.settle();
  }

  /** Presses a key or lets it go. */
  key(key, down) {
    this.mcu.gpio[FIRST_KEY + key].setInputValue(!down);
  }

  /** Runs until the unit sleeps with nothing more to do. */
  settle(milliseconds = 5_000) {
    const { core } = this.mcu;
    const sleeping = () => {
      // Asleep, and nothing but the watchdog will wake it.
      return core.waiting && this.clock.nanosToNextAlarm > 2e6;
    };
    if (!this.run(milliseconds, sleeping)) this.#complain(`busy for ${milliseconds} ms`);
  }

  /** What must never happen has not. */
  assertWell() {
    const all = [...this.complaints, ...this.display.complaints];
    if (this.panicked) all.push('it panicked');
    if (this.lost > 0) all.push(`${this.lost} bytes lost on the cable`);
    if (this.slow) all.push('flash was left in its slow mode');
    if (all.length > 0) throw new Error(`the unit is not well:\n  ${all.join('\n  ')}`);
  }
}
