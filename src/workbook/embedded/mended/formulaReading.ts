/**
 * Mends how Univer reads formulas.
 *
 * As shipped,
 * - a number that is not in its shortest decimal form (0.50, 1e5) becomes text or a formatted number, and text that
 *   looks like a date or a fraction ("1/2") becomes a number when it is an argument. In a trial log that turns a ruler
 *   fraction into a day, and `A1>0.50` into a comparison of a number with text;
 * - one formula with a bracket too many leaves the reader inside brackets, and every formula read after it fails;
 * - a sheet name with an apostrophe, which a formula writes doubled ('Bo''s log'!A1), is never found.
 */
import type { FormulaDataModel } from "@univerjs/engine-formula";
import type { UniverKit } from "../../../hosts/embedded/univerKit";

const NUMBER = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;
const TEXT = /^"((?:[^"]|"")*)"$/;

const mended = new WeakSet<object>();

/** Mends the reading of constants and brackets for every workbook; doing it twice changes nothing. */
export function mendReading(
  kit: Pick<
    UniverKit,
    "ErrorValueObject" | "LexerTreeBuilder" | "NumberValueObject" | "StringValueObject" | "ValueObjectFactory"
  >,
): void {
  const factory = kit.ValueObjectFactory;
  if (mended.has(factory)) return;
  mended.add(factory);

  const create = factory.create.bind(factory);
  factory.create = (source, isIgnoreNumberPattern) => {
    if (typeof source === "string") {
      const trimmed = source.trim();
      if (NUMBER.test(trimmed)) {
        const number = Number(trimmed);
        return Number.isFinite(number)
          ? kit.NumberValueObject.create(number)
          : kit.ErrorValueObject.create("#NUM!" as never);
      }
      const text = TEXT.exec(trimmed);
      if (text?.[1] !== undefined) return kit.StringValueObject.create(text[1].replace(/""/g, '"'));
    }
    return create(source, isIgnoreNumberPattern);
  };

  // The reader's own reset before each formula forgets these two.
  const reader = kit.LexerTreeBuilder.prototype as unknown as {
    _resetTemp(): void;
    _squareBracketState: number;
    _tableBracketState: boolean;
  };
  const reset = reader._resetTemp;
  reader._resetTemp = function () {
    reset.call(this);
    this._squareBracketState = 0;
    this._tableBracketState = false;
  };
}

/** Lets the formulas of this workbook find sheets by their names as formulas write them. */
export function mendSheetNames(model: FormulaDataModel): void {
  const shipped = model.getCalculateData.bind(model);
  model.getCalculateData = () => {
    const data = shipped();
    for (const unit of Object.values(data.unitSheetNameMap)) {
      if (!unit) continue;
      for (const [name, id] of Object.entries(unit)) if (name.includes("'")) unit[name.replace(/'/g, "''")] = id;
    }
    return data;
  };
}
