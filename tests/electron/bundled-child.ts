/** Runs the built plant's process outside Electron: the bundle named by PLANT_PROCESS, with the port it expects. */
import { EventEmitter } from "node:events";

class Port extends EventEmitter {
  postMessage(message: unknown): void {
    process.send?.(message);
  }
}

const port = new Port();
process.on("message", (data) => port.emit("message", { data, ports: [] }));
Object.assign(process, { parentPort: port });
await import(process.env.PLANT_PROCESS ?? "");
