// The calls a Go reactor makes of its host: enough to start, to tell the time
// and to say why it stopped. There are no files and no arguments.

export class Exit extends Error {}

export interface Reactor {
  memory: WebAssembly.Memory;
  _initialize(): void;
  buf(n: number): number;
  ask(n: number): number;
}

/** Makes the import object; `said` collects what the program writes to stderr. */
export function imports(memory: () => WebAssembly.Memory, said: string[]): WebAssembly.Imports {
  const view = () => new DataView(memory().buffer);
  const bytes = (at: number, n: number) => new Uint8Array(memory().buffer, at, n);
  const none = 0, badf = 8, nosys = 52;
  let skipped = 0n;
  // An answer leaves little behind: collecting four times more rarely keeps
  // keystrokes even, and costs some megabytes.
  const setting = new TextEncoder().encode("GOGC=400\0");
  const zeros = (a: number, b: number) => {
    view().setUint32(a, 0, true);
    view().setUint32(b, 0, true);
    return none;
  };
  const calls: Record<string, (...args: never[]) => number | void> = {
    args_sizes_get: zeros,
    args_get: () => none,
    environ_sizes_get: (count: number, size: number) => {
      view().setUint32(count, 1, true);
      view().setUint32(size, setting.length, true);
      return none;
    },
    environ_get: (list: number, text: number) => {
      view().setUint32(list, text, true);
      bytes(text, setting.length).set(setting);
      return none;
    },
    clock_time_get: (_id: number, _precision: bigint, out: number) => {
      view().setBigUint64(out, BigInt(Math.round(performance.now() * 1e6)) + skipped, true);
      return none;
    },
    // The runtime sleeps here while it tidies its memory. Nobody waits for it:
    // its clock is put on by the time it asked for.
    poll_oneoff: (wants: number, events: number, _count: number, made: number) => {
      const clock = 0, size = 32;
      bytes(events, size).fill(0);
      view().setBigUint64(events, view().getBigUint64(wants, true), true); // whose event it is
      if (view().getUint8(wants + 8) === clock) skipped += view().getBigUint64(wants + 24, true);
      view().setUint32(made, 1, true);
      return none;
    },
    random_get: (at: number, n: number) => {
      crypto.getRandomValues(bytes(at, n));
      return none;
    },
    fd_write: (_fd: number, list: number, count: number, written: number) => {
      let total = 0;
      for (let i = 0; i < count; i++) {
        const at = view().getUint32(list + 8 * i, true), n = view().getUint32(list + 8 * i + 4, true);
        said.push(new TextDecoder().decode(bytes(at, n).slice()));
        total += n;
      }
      view().setUint32(written, total, true);
      return none;
    },
    fd_prestat_get: () => badf,
    sched_yield: () => none,
    proc_exit: (code: number) => {
      throw new Exit("exit " + code);
    },
  };
  const missing = { get: (all: typeof calls, name: string) => all[name] ?? (() => nosys) };
  return { wasi_snapshot_preview1: new Proxy(calls, missing) as unknown as WebAssembly.ModuleImports };
}
