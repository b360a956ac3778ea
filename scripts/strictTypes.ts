/** Checks the types of the rooms in which an index may give undefined. */
import { roomTypes } from "./lint/roomTypes";

if (!roomTypes()) process.exitCode = 1;
