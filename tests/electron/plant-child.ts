/** Runs the plant's process outside Electron: gives it the port it expects, over Node's own channel. */
import { EventEmitter } from "node:events";

class Port extends EventEmitter {
  postMessage(message: unknown): void {
    process.send?.(message);
  }
}

const port = new Port();
process.on("message", (data) => port.emit("message", { data, ports: [] }));
Object.assign(process, { parentPort: port });
await import("../../electron/plant-process.ts");
