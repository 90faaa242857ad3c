/** Threads are given no TypeScript by the process that starts them: this one takes it and goes on in seedThread.ts. */
import { register } from "tsx/esm/api";

register();
await import("./seedThread.ts");
