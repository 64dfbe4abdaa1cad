// The worker: an instance of its own for questions that take long, so that the
// page never stands still.
import { Instance, type Lines } from "./instance";

let running: Promise<Instance> | undefined;

async function start(code: WebAssembly.Module, tables: string): Promise<Instance> {
  const made = new Instance(code, tables);
  await made.start();
  return made;
}

self.onmessage = async (e: MessageEvent<{ code?: WebAssembly.Module; tables?: string; lines?: Lines }>) => {
  try {
    if (e.data.code) running = start(e.data.code, e.data.tables ?? "");
    const desk = await running; // a question may come before the start is done
    if (e.data.lines) self.postMessage({ reply: desk?.ask(e.data.lines) });
  } catch (fault) {
    self.postMessage({ fault: (fault as Error).message });
  }
};
