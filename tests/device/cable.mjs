// The real `tellmark` command at the other end of the emulated unit's cable, over a
// pseudo-terminal.
import { spawn } from 'node:child_process';
import { once } from 'node:events';

// How far the unit's clock may run ahead of the real one: it sleeps fast.
const AHEAD = 20; // milliseconds

/**
 * Runs `tellmark` with these arguments while the unit runs, `{port}` standing for the
 * unit's. Gives back what it printed and its exit code.
 */
export async function tellmark(board, { command, pty, cwd }, ...args) {
  const relay = spawn(pty, { stdio: ['pipe', 'pipe', 'inherit'] });
  const port = await new Promise((resolve) => {
    let name = '';
    relay.stdout.on('data', function first(bytes) {
      name += bytes.toString('latin1');
      if (!name.includes('\n')) return;
      relay.stdout.off('data', first);
      resolve(name.trim());
    });
  });
  relay.stdout.on('data', (bytes) => board.send(bytes));
  const toHost = [];
  board.onByte = (byte) => toHost.push(byte);

  const all = args.map((arg) => (arg === '{port}' ? port : arg));
  const host = spawn(command, all, { cwd, stdio: ['ignore', 'pipe', 'pipe'] });
  let [out, err, code] = ['', '', null];
  host.stdout.on('data', (bytes) => (out += bytes));
  host.stderr.on('data', (bytes) => (err += bytes));
  host.on('close', (c) => (code = c ?? -1));
  const [real, units] = [performance.now(), board.now];
  while (code === null && !board.ended) {
    if (board.now - units < performance.now() - real + AHEAD) board.run(2);
    if (toHost.length > 0) relay.stdin.write(Buffer.from(toHost.splice(0)));
    await new Promise((resolve) => setImmediate(resolve));
  }
  if (code === null) await once(host, 'close');
  relay.stdin.end();
  relay.kill();
  board.onByte = () => {};
  return { code, out, err };
}
