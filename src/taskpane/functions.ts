/**
 * The worksheet functions alone. They are made known while the page is still loading: Excel calls them as soon as a
 * workbook is computed, and a call before that shows #VALUE! until the cell is computed again.
 */
import { associateFunctions } from "../hosts/excel/customFunctions";
import { blankMemory } from "./blankMemory";

// Where Microsoft's script did not load there is nobody to tell; the pane says so.
if (typeof CustomFunctions !== "undefined") associateFunctions(CustomFunctions, blankMemory());
