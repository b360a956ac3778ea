/** The worker's own script: takes one order, reports, and is ended by the page. May import: carryOut.ts. */
import { carryOut } from "./carryOut";
import type { Order } from "./messages";

addEventListener("message", ({ data }: MessageEvent<Order>) => void carryOut(data, (report) => postMessage(report)));
