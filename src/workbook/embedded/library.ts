/**
 * The BANK functions as the embedded workbook registers them. May import: bankFunctions.ts, ../../functions.
 */
import * as functions from "../../functions/functions";
import metadata from "../../functions/functions.json";
import type { FunctionLibrary } from "./bankFunctions";

export const bankLibrary: FunctionLibrary = { namespace: "BANK", metadata, functions };
