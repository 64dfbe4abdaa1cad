// The worker: an instance of its own for questions that take long, so that the
// page never stands still.
import { Instance, type Lines } from "./instance";

let running: Instance | undefined;

self.onmessage = async (e: MessageEvent<{ code?: WebAssembly.Module; tables?: string; lines?: Lines }>) => {
  try {
    if (e.data.code) {
      running = new Instance(e.data.code, e.data.tables ?? "");
      await running.start();
      return;
    }
    self.postMessage({ reply: running?.ask(e.data.lines ?? []) });
  } catch (fault) {
    self.postMessage({ fault: (fault as Error).message });
  }
};
