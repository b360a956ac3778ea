/**
 * The sums of `blockSums.ts` by WebAssembly, two doubles at a time: twice as quick, and the same to the last bit, since
 * each lane adds and multiplies what the plain loop does, in its order.
 *
 * A module of one function, put together here: no tool makes it, and a reader sees every instruction. Opcodes: the
 * WebAssembly Core Specification 2.0 (W3C, 2022), sections 5.3 to 5.5.
 */

import type { BlockSums } from "./blockSums";

type Bytes = readonly number[];

const [I32, V128] = [0x7f, 0x7b];
/** Where the function's locals are: its three arguments, where its loop ends, pairs of numbers, and running sums. */
const LEFT = 0;
const RIGHT = 1;
const OUT = 2;
const END = 3;
/** Heads (a, b) and (c, d), their tails, (a, b) with tails, and (d, c) with its tails. */
const [AB, AB_TAILS, AB_WHOLE, CD, CD_TAILS, DC, DC_TAILS] = [4, 5, 6, 7, 8, 9, 10];
/** (ac, bd) and (ad, bc); the same of the rest. */
const [STRAIGHT, CROSSED, STRAIGHT_REST, CROSSED_REST] = [11, 12, 13, 14];
/** How many locals hold pairs. */
const PAIRS = 11;

/** A whole number in as few bytes as it takes (LEB128). */
function whole(value: number): Bytes {
  return value < 128 ? [value] : [(value % 128) + 128, ...whole(Math.floor(value / 128))];
}

/** The same with a sign, for constants: the last byte's second bit is 0. */
function constant(value: number): Bytes {
  return value < 64 ? [value] : [(value % 128) + 128, ...constant(Math.floor(value / 128))];
}

const counted = (items: readonly Bytes[]): Bytes => [...whole(items.length), ...items.flat()];
const sized = (bytes: Bytes): Bytes => [...whole(bytes.length), ...bytes];
const section = (kind: number, ...items: readonly Bytes[]): Bytes => [kind, ...sized(counted(items))];
const text = (name: string): Bytes => sized(Array.from(name, (sign) => sign.charCodeAt(0)));

const get = (local: number): Bytes => [0x20, local];
const set = (local: number, ...value: readonly Bytes[]): Bytes => [...value.flat(), 0x21, local];
const number = (value: number): Bytes => [0x41, ...constant(value)];
const sumOf = (a: Bytes, b: Bytes): Bytes => [...a, ...b, 0x6a];
const pairAt = (address: Bytes, offset: number): Bytes => [...address, 0xfd, 0x00, 0x04, ...whole(offset)];
const store = (offset: number, value: Bytes): Bytes => [...get(OUT), ...value, 0xfd, 0x0b, 0x04, ...whole(offset)];
const plus = (a: Bytes, b: Bytes): Bytes => [...a, ...b, 0xfd, 0xf0, 0x01];
const times = (a: number, b: number): Bytes => [...get(a), ...get(b), 0xfd, 0xf2, 0x01];
/** One number of each of two pairs; 0 and 1 are those of the first, 2 and 3 those of the second. */
const chosen = (a: number, b: number, first: number, second: number): Bytes => [
  ...get(a),
  ...get(b),
  ...[0xfd, 0x0d],
  ...[first, second].flatMap((one) => Array.from({ length: 8 }, (_, byte) => 8 * one + byte)),
];

/** @param rows in a block, of 32 bytes each: two heads, two tails */
function sumsOfBlock(rows: number): Bytes {
  const added = (to: number, value: Bytes) => set(to, plus(get(to), value));
  const rest = (c: number, tails: number) => plus(times(AB_TAILS, c), times(AB_WHOLE, tails));
  return [
    ...set(END, sumOf(get(LEFT), number(32 * rows))),
    ...[0x03, 0x40],
    ...set(AB, pairAt(get(LEFT), 0)),
    ...set(AB_TAILS, pairAt(get(LEFT), 16)),
    ...set(AB_WHOLE, plus(get(AB), get(AB_TAILS))),
    ...set(CD, pairAt(get(RIGHT), 0)),
    ...set(CD_TAILS, pairAt(get(RIGHT), 16)),
    ...set(DC, chosen(CD, CD, 1, 0)),
    ...set(DC_TAILS, chosen(CD_TAILS, CD_TAILS, 1, 0)),
    ...added(STRAIGHT, times(AB, CD)),
    ...added(CROSSED, times(AB, DC)),
    ...added(STRAIGHT_REST, rest(CD, CD_TAILS)),
    ...added(CROSSED_REST, rest(DC, DC_TAILS)),
    ...set(RIGHT, sumOf(get(RIGHT), number(32))),
    ...set(LEFT, sumOf(get(LEFT), number(32))),
    // Again while LEFT < END.
    ...[...get(LEFT), ...get(END), 0x49, 0x0d, 0x00, 0x0b],
    ...store(0, chosen(STRAIGHT, CROSSED, 0, 2)),
    ...store(16, chosen(CROSSED, STRAIGHT, 1, 3)),
    ...store(32, chosen(STRAIGHT_REST, CROSSED_REST, 0, 2)),
    ...store(48, chosen(CROSSED_REST, STRAIGHT_REST, 1, 3)),
    0x0b,
  ];
}

/** The module: it takes a memory, and gives the function (left, right, out), which are addresses in it. */
function moduleOf(rows: number) {
  const locals = counted([
    [1, I32],
    [PAIRS, V128],
  ]);
  return Uint8Array.from([
    ...[0x00, 0x61, 0x73, 0x6d, 0x01, 0x00, 0x00, 0x00],
    ...section(1, [0x60, ...counted([[I32], [I32], [I32]]), 0x00]),
    ...section(2, [...text("from"), ...text("memory"), 0x02, 0x00, 0x01]),
    ...section(3, [0x00]),
    ...section(7, [...text("sums"), 0x00, 0x00]),
    ...section(10, sized([...locals, ...sumsOfBlock(rows)])),
  ]);
}

/** What a module made of these bytes needs and gives, without asking for a browser's types. */
interface Kernel {
  readonly memory: WebAssembly.Memory;
  readonly sums: (left: number, right: number, out: number) => void;
}

/**
 * Undefined where the engine knows no such vectors, and on pages: their policy lets nothing be compiled but scripts of
 * their own, and asking would be reported as a breach of it.
 */
function kernelOf(rows: number): Kernel | undefined {
  if ("document" in globalThis || "importScripts" in globalThis || !("WebAssembly" in globalThis)) return undefined;
  const bytes = moduleOf(rows);
  if (!WebAssembly.validate(bytes)) return undefined;
  const memory = new WebAssembly.Memory({ initial: 1 });
  const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes), { from: { memory } });
  return { memory, sums: exports.sums as Kernel["sums"] };
}

const PAGE = 65_536;
/** The eight sums stand before the columns. */
const ROOM_FOR_SUMS = 64;

let made: { readonly kernel: Kernel | undefined } | undefined;

/** One at a time: the next takes the same memory. @param pairs of columns */
export function vectorSums(rows: number, pairs: number): BlockSums | undefined {
  made ??= { kernel: kernelOf(rows) };
  const { kernel } = made;
  if (!kernel) return undefined;
  const { memory, sums } = kernel;
  const size = 32 * rows;
  const lacking = Math.ceil((ROOM_FOR_SUMS + pairs * size) / PAGE) - memory.buffer.byteLength / PAGE;
  if (lacking > 0) memory.grow(lacking);
  const at = (pair: number) => ROOM_FOR_SUMS + pair * size;
  return {
    packed: Array.from({ length: pairs }, (_, pair) => new Float64Array(memory.buffer, at(pair), 4 * rows).fill(0)),
    out: new Float64Array(memory.buffer, 0, 8),
    sums: (left, right) => sums(at(left), at(right), 0),
  };
}
