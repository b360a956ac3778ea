/**
 * Loads the grid. Its libraries are set up one after another, each in a task of its own: together they would hold the
 * page up for a third of a second. Browser only.
 */
import { turn } from "../turns";

type GridFile = typeof import("./grid");

/** What stands on others comes after them. */
const LIBRARIES: readonly (() => Promise<unknown>)[] = [
  () => import(/* webpackExports: ["Univer"] */ "@univerjs/core"),
  () => import(/* webpackExports: ["FormulaDataModel"] */ "@univerjs/engine-formula"),
  () => import(/* webpackExports: ["UniverSheetsPlugin"] */ "@univerjs/sheets"),
  () => import(/* webpackExports: ["UniverSheetsFormulaPlugin"] */ "@univerjs/sheets-formula"),
  () => import(/* webpackExports: ["UniverUIPlugin"] */ "@univerjs/ui"),
];

let grid: Promise<GridFile> | undefined;

/** The grid's file; asked for again after it could not be had, it is fetched again. */
export function loadGrid(): Promise<GridFile> {
  grid ??= inOrder().catch((problem: unknown) => {
    grid = undefined;
    throw problem;
  });
  return grid;
}

async function inOrder(): Promise<GridFile> {
  for (const library of LIBRARIES) {
    await library();
    await turn();
  }
  return import("./grid");
}
