/**
 * The worksheet functions alone. They are made known while the page is still loading: Excel calls them as soon as a
 * workbook is computed, and a call before that shows #VALUE! until the cell is computed again.
 */
import { associateFunctions } from "../hosts/excel/customFunctions";

/** Office says it once it is ready; a call that comes before is treated as by an older Excel. */
const hasDataTypes = (): boolean => {
  try {
    return Office.context.requirements.isSetSupported("CustomFunctionsRuntime", "1.4");
  } catch {
    return false;
  }
};

// Where Microsoft's script did not load there is nobody to tell; the pane says so.
if (typeof CustomFunctions !== "undefined") associateFunctions(CustomFunctions, hasDataTypes);
