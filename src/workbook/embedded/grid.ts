/**
 * The workbook as a grid in the browser. Browser only.
 */
import {
  CommandType,
  DOCS_NORMAL_EDITOR_UNIT_ID_KEY,
  ICommandService,
  IUniverInstanceService,
  LifecycleService,
  LifecycleStages,
  LocaleService,
  LocaleType,
  LogLevel,
  Univer,
  UniverInstanceType,
  type Injector,
} from "@univerjs/core";
import { FUniver } from "@univerjs/core/facade";
import {
  ArrayValueObject,
  BaseFunction,
  BooleanValueObject,
  CELL_INVERTED_INDEX_CACHE,
  ErrorValueObject,
  FormulaDataModel,
  FunctionType,
  ICalculateFormulaService,
  IActiveDirtyManagerService,
  IDefinedNamesService,
  IFormulaRuntimeService,
  IFunctionService,
  LexerTreeBuilder,
  NullValueObject,
  NumberValueObject,
  SetFormulaCalculationStartMutation,
  StringValueObject,
  ValueObjectFactory,
} from "@univerjs/engine-formula";
import { UniverSheetsCorePreset } from "@univerjs/preset-sheets-core";
import english from "@univerjs/preset-sheets-core/locales/en-US";
import { ILayoutService } from "@univerjs/ui";
import {
  FormulaCalculationSessionService,
  IDescriptionService,
  UpdateFormulaController,
} from "@univerjs/sheets-formula";
import "@univerjs/preset-sheets-core/lib/index.css";
import { UniverSheetsDrawingPreset } from "@univerjs/preset-sheets-drawing";
import englishDrawing from "@univerjs/preset-sheets-drawing/locales/en-US";
import "@univerjs/preset-sheets-drawing/lib/index.css";
import { filter, firstValueFrom } from "rxjs";
import type { Area, Book } from "../book";
import type { Port } from "../port";
import { mendCellEditing, type TakenForDay } from "./mended/cellEditing";
import { restBetweenDrawings } from "./mended/restingFrames";
import "./mended/steadyRibbon";
import { dayPopup } from "./dayPopup";
import { redo, watchEdits, type BookEdit } from "./edits";
import { EmbeddedPort } from "./embeddedPort";
import { gridPictures } from "./gridPictures";
import { bankLibrary } from "../../functions/library";
import { inTurns, turn } from "../turns";
import { LiveBook } from "./liveBook";
import { toSnapshotInSteps } from "./snapshot";
import type { UniverKit } from "../../hosts/embedded/univerKit";

export interface Grid {
  readonly port: Port;
  /** Resolves once the grid's controls stand: those that come later would not hear which cells are selected. */
  readonly shown: Promise<void>;
  /** The workbook as it is now, for saving a copy. */
  book(): Book;
  /** The same in steps, between which a page may do other things; an edit meanwhile makes it worthless. */
  bookInSteps(): Generator<void, Book>;
  /** What the error in the cell says; undefined when the cell holds no error or nobody said anything. */
  messageAt(sheet: string, row: number, column: number): string | undefined;
  /** Calls back with each change, small enough to be kept at once; returns how to stop. */
  onEdit(listener: (edit: BookEdit) => void): () => void;
  /** Calls back when other cells are selected; returns how to stop. */
  onSelect(listener: (sheet: string, area: Area) => void): () => void;
  /** Gives the keyboard to the selected cell. */
  focus(): void;
  setDark(dark: boolean): void;
  dispose(): void;
}

export interface GridOptions {
  readonly dark?: boolean;
  /** Edits that were made after the Book was kept; they are done again. */
  readonly edits?: readonly BookEdit[];
  /** Ended, the grid is given up as soon as it can be: half a one cannot be put away. */
  readonly stopped?: AbortSignal;
  /** Hears what share of the workbook is computed, 0 to 1. */
  readonly onProgress?: (share: number) => void;
  /** Told when the grid could not compute the workbook; the cells then hold what was stored. */
  readonly onError: (error: Error) => void;
  /** Told of a fraction that became a day, with the way to mend it; what it returns takes the news back. */
  readonly onDay?: (taken: TakenForDay, mend: () => void) => () => void;
}

const kit: UniverKit = {
  ArrayValueObject,
  BaseFunction,
  BooleanValueObject,
  CELL_INVERTED_INDEX_CACHE,
  CommandType,
  ErrorValueObject,
  FormulaCalculationSessionService,
  FUniver,
  FormulaDataModel,
  FunctionType,
  ICalculateFormulaService,
  IActiveDirtyManagerService,
  ICommandService,
  IDefinedNamesService,
  IDescriptionService,
  IFormulaRuntimeService,
  IFunctionService,
  LexerTreeBuilder,
  LocaleService,
  LocaleType,
  LogLevel,
  NullValueObject,
  NumberValueObject,
  SetFormulaCalculationStartMutation,
  StringValueObject,
  Univer,
  UniverInstanceType,
  UpdateFormulaController,
  ValueObjectFactory,
};

const NO_CALCULATION = 2;

/**
 * Shows the Book in the element and resolves when everything in it is computed; throws what `stopped` was ended with,
 * and then nothing is left of the grid.
 */
export async function openGrid(container: HTMLElement, book: Book, options: GridOptions): Promise<Grid> {
  const { stopped, onProgress } = options;
  const snapshot = await inTurns(toSnapshotInSteps(book, LocaleType.EN_US));
  stopped?.throwIfAborted();
  await turn();
  // What Univer builds is built in parts: services with the program, with each plugin, and with the workbook.
  const univer = new Univer({
    locale: LocaleType.EN_US,
    locales: { [LocaleType.EN_US]: { ...english, ...englishDrawing } },
    logLevel: LogLevel.ERROR,
    darkMode: options.dark === true,
  });
  await turn();
  await inTurns(registering(univer, container));
  await turn();
  const live = new LiveBook(kit, univer, book, bankLibrary, snapshot);
  const opened = restBetweenDrawings(live.injector);
  await turn();
  const failed = (error: unknown) => options.onError(error instanceof Error ? error : new Error(String(error)));
  const opening = live.open((share) => {
    stopped?.throwIfAborted();
    onProgress?.(share);
  });
  await opening.catch((problem: unknown) => stopped?.aborted || failed(problem));
  if (stopped?.aborted) {
    live.dispose();
    throw stopped.reason;
  }
  const days = watchDays(live, options);
  if (options.edits && options.edits.length > 0) {
    const undone = redo(kit, live.injector, live.workbook, options.edits);
    if (undone > 0)
      failed(`${undone} of ${options.edits.length} changes could not be made again: their sheets are not there.`);
    await live.recalculate().catch(failed);
  }

  const focus = () => live.injector.get(ILayoutService).focus();
  return {
    // A grid that is put away before never stands.
    shown: standing(live.injector).then(opened, () => {}),
    port: new EmbeddedPort(live, { showPicture: gridPictures(live), focus }),
    book: () => live.book(),
    bookInSteps: () => live.bookInSteps(),
    onEdit: (listener) => watchEdits(kit, live.injector, live.workbook, listener),
    messageAt: (sheet, row, column) => live.messageAt(sheet, row, column),
    onSelect: (listener) => live.onSelect(listener),
    focus,
    setDark: (dark) => live.api.toggleDarkMode(dark),
    dispose() {
      days.dispose();
      live.dispose();
    },
  };
}

/**
 * Resolves once the grid is drawn and the cell's editor stands, which is what has the keyboard. The editor comes with
 * the page's next drawing, on a busy machine after the grid's; a cell selected before has none, and keeps none.
 * @throws when the grid is put away before
 */
async function standing(injector: Injector): Promise<void> {
  await injector.get(LifecycleService).onStage(LifecycleStages.Rendered);
  const units = injector.get(IUniverInstanceService);
  if (units.getUnit(DOCS_NORMAL_EDITOR_UNIT_ID_KEY)) return;
  const added = units.getTypeOfUnitAdded$(UniverInstanceType.UNIVER_DOC);
  await firstValueFrom(added.pipe(filter(({ unit }) => unit.getUnitId() === DOCS_NORMAL_EDITOR_UNIT_ID_KEY)));
}

/** Registers the grid's plugins, one a step. */
function* registering(univer: Univer, container: HTMLElement): Generator<void> {
  // Univer computes once on its own when a workbook opens; here it is told to, so that the end can be waited for.
  // A picture that a user puts on a sheet would be in no copy, so the menu does not offer it; the panel's are kept.
  const core = UniverSheetsCorePreset({
    container,
    formula: { initialFormulaComputing: NO_CALCULATION },
    menu: { "sheet.menu.image": { hidden: true } },
  });
  for (const plugin of [...core.plugins, ...UniverSheetsDrawingPreset().plugins]) {
    if (Array.isArray(plugin)) univer.registerPlugin(plugin[0], plugin[1]);
    else univer.registerPlugin(plugin);
    yield;
  }
}

/**
 * Lets a cell whose fraction became a day offer the mend there and then; the next edit of the cell takes the offer
 * away.
 */
function watchDays(live: LiveBook, { onDay }: GridOptions): { dispose(): void } {
  return mendCellEditing(live.injector, live.workbook, (taken) => {
    const { sheet, row, column, value, format } = taken;
    const mend = () => live.setNumber(sheet, row, column, value, format);
    const said: { takeBack?: () => void } = {};
    const popup = dayPopup(live, taken, mend, () => close());
    const stop = live.onCell(sheet, row, column, () => close());
    const close = () => {
      stop();
      popup?.dispose();
      said.takeBack?.();
    };
    said.takeBack = onDay?.(taken, mend);
  });
}
