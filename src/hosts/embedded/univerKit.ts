/**
 * What this folder uses of Univer at run time. Node must load Univer's CommonJS build and the browser its ES build, so
 * everything here takes the classes it needs from a kit instead of importing them.
 */
import type * as core from "@univerjs/core";
import type * as facade from "@univerjs/core/facade";
import type * as formula from "@univerjs/engine-formula";
import type * as sheetsFormula from "@univerjs/sheets-formula";
// Types only: they add the sheet and formula methods to FUniver.
import type {} from "@univerjs/sheets/facade";
import type {} from "@univerjs/engine-formula/facade";
import type {} from "@univerjs/sheets-formula/facade";

export type UniverKit = Pick<
  typeof core,
  "CommandType" | "ICommandService" | "LocaleService" | "Univer" | "LocaleType" | "LogLevel" | "UniverInstanceType"
> &
  Pick<typeof facade, "FUniver"> &
  Pick<
    typeof formula,
    | "ArrayValueObject"
    | "BaseFunction"
    | "BooleanValueObject"
    | "CELL_INVERTED_INDEX_CACHE"
    | "ErrorValueObject"
    | "FormulaDataModel"
    | "FunctionType"
    | "ICalculateFormulaService"
    | "IActiveDirtyManagerService"
    | "IDefinedNamesService"
    | "IFormulaRuntimeService"
    | "IFunctionService"
    | "LexerTreeBuilder"
    | "NullValueObject"
    | "NumberValueObject"
    | "SetFormulaCalculationStartMutation"
    | "StringValueObject"
    | "ValueObjectFactory"
  > &
  Pick<typeof sheetsFormula, "FormulaCalculationSessionService" | "IDescriptionService" | "UpdateFormulaController">;
