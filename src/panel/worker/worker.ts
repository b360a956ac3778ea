/** The worker's own script: takes one order, reports, and is ended by the page. */
import { carryOut } from "./carryOut";
import type { Order } from "./messages";

addEventListener("message", ({ data }: MessageEvent<Order>) => void carryOut(data, (report) => postMessage(report)));
