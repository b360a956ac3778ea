/**
 * Stands for Excel on the other side of the message bridge of Microsoft's client library: answers its requests with a
 * workbook behind them, sends its events and calls custom functions. The client is Microsoft's own, in a page or in
 * Node.
 */
import { areaAddress } from "../../src/workbook/address";
import { Batch, type RequestBody, type Surroundings } from "./batch";
import { Calculation } from "./calculation";
import { FunctionCalls } from "./functionCalls";
import { ExcelFailure, UnknownConstruct } from "./failure";
import { remote } from "./model";
import { ADDIN, START_STATE, WORKBOOK } from "./objects/root";
import type { HostEvent, HostWorkbook } from "./workbook";

/**
 * Characters of a message of Excel on the web, each way:
 * learn.microsoft.com/office/dev/add-ins/concepts/resource-limits-and-performance-optimization
 */
const LIMIT = 5 * 1024 * 1024;
/** The client's flag of a request that waits while a cell is being typed in (Excel.RunOptions.delayForCellEdit). */
const WAITS_FOR_CELL_EDIT = 64;
const EVENT_CATEGORY = 65536;
/** The client's numbers of the events, and the methods that ask for them. */
const EVENTS = { changed: [10, "DataChanged"], calculated: [16, "Calculated"] } as const;

interface Message {
  readonly id: number;
  readonly type: number;
  readonly flags: number;
  readonly message: { readonly url: string; readonly body: RequestBody };
}

/** The requirement sets that manifest.xml asks for, and no more: what the least Excel that may load the add-in has. */
export const LEAST_SETS: Readonly<Record<string, string>> = {
  ExcelApi: "1.13",
  SharedRuntime: "1.1",
  CustomFunctionsRuntime: "1.1",
  CustomFunctions: "1.7",
  CustomXmlParts: "1.1",
  DelayForCellEdit: "1.1",
  RichApiRuntime: "1.2",
};

export class Host {
  /** Everything asked for, in order: "Range.Values=", "load Range", "WorksheetCollection.Add". */
  readonly asked: string[] = [];
  /** Requests that did more than let go of what was kept. */
  roundTrips = 0;
  largestAnswer = 0;
  largestRequest = 0;
  /** Stands for whatever makes Excel refuse, and for what others do between two steps: called before each. */
  refuse: (step: string) => ExcelFailure | undefined = () => undefined;
  /** Sends a text to the client; set by whoever connects the two. */
  send: (text: string) => void = () => undefined;
  /** What the host was asked for and does not know; a test that meets any has failed. */
  readonly unknown: string[] = [];
  /** Makes it heard; tests of the host itself put something quieter here. */
  cry: (problem: Error) => void = (problem) =>
    void setTimeout(() => {
      throw problem;
    });
  readonly functions = new FunctionCalls((entry) =>
    this.send(JSON.stringify({ type: 3, message: { entries: [entry] } })),
  );
  /** Messages that came, and messages that are to be sent. */
  private received = 0;
  private sending = 0;
  private readonly kept = new Map<string, ReturnType<typeof remote>>();
  private held: Message[] | undefined;

  workbook: HostWorkbook;

  constructor(
    workbook: HostWorkbook,
    readonly sets: Readonly<Record<string, string>> = LEAST_SETS,
  ) {
    this.workbook = workbook;
    this.open(workbook);
  }

  /** Puts another workbook behind the same client. */
  open(workbook: HostWorkbook): void {
    this.workbook = workbook;
    workbook.tell = (event) => this.tell(event);
    const calculation = new Calculation((name, given) => this.functions.ofCell(name, given));
    workbook.calculate = (sheet) => {
      try {
        calculation.run(sheet, () => this.tell({ kind: "calculated", sheet }));
      } catch (problem) {
        this.meet(problem as Error);
      }
    };
  }

  /** A text of the client has come. The answer follows in a turn of its own, as from another process. */
  receive(text: string): void {
    this.received++;
    const message = JSON.parse(text) as Message;
    if (message.type !== 1 || message.message.url !== "ProcessQuery")
      return this.meet(new UnknownConstruct(`messages of type ${message.type} (${text.slice(0, 200)})`));
    this.largestRequest = Math.max(this.largestRequest, text.length);
    if (text.length > LIMIT)
      return this.refuseAll(
        message,
        "RequestPayloadSizeLimitExceeded",
        "The request payload size has exceeded the limit.",
      );
    this.later(() => this.take(message));
  }

  /** Does something in a turn of its own. */
  private later(act: () => void): void {
    this.sending++;
    setTimeout(() => {
      this.sending--;
      act();
    });
  }

  /** Resolves once the client has asked for nothing in a while and has all answers and events. */
  async quiet(): Promise<void> {
    for (let before = -1; before !== this.received || this.sending > 0;) {
      before = this.received;
      await new Promise((done) => setTimeout(done, 20));
    }
  }

  private take(message: Message): void {
    if (!this.held) return this.answer(message);
    if (message.flags & WAITS_FOR_CELL_EDIT) this.held.push(message);
    else
      this.refuseAll(
        message,
        "InvalidOperationInCellEditMode",
        "Excel is in cell-editing mode. Please exit the edit mode by pressing ENTER or TAB or selecting another cell, and then try again.",
      );
  }

  /** A person begins to type in a cell: Excel changes nothing until the cell is left. */
  beginCellEdit(): void {
    this.held ??= [];
  }

  endCellEdit(): void {
    const held = this.held ?? [];
    this.held = undefined;
    for (const message of held) this.answer(message);
  }

  private answer(message: Message): void {
    const { body } = message.message;
    if (body.Actions.some(({ Name, ActionType }) => ActionType > 1 && Name !== "_RemoveReference")) this.roundTrips++;
    const around: Surroundings = {
      root: remote(WORKBOOK, this.workbook),
      services: {
        "Microsoft.AppRuntime.AppRuntimePersistenceService": remote(START_STATE, this.workbook),
        "Microsoft.InternalService.AddinInternalService": remote(ADDIN, this.workbook),
        ...this.functions.services,
      },
      kept: this.kept,
      before: (step) => {
        this.asked.push(step);
        const refused = this.refuse(step);
        if (refused) throw refused;
      },
    };
    try {
      const answer = JSON.stringify(new Batch(body, around).answer());
      this.largestAnswer = Math.max(this.largestAnswer, answer.length);
      if (answer.length > LIMIT)
        this.refuseAll(
          message,
          "ResponsePayloadSizeLimitExceeded",
          "The response payload size has exceeded the limit.",
        );
      else this.send(`{"id":${message.id},"type":2,"message":{"statusCode":200,"headers":{},"body":${answer}}}`);
    } catch (problem) {
      this.meet(problem as Error);
      this.refuseAll(message, "GeneralException", String(problem));
    }
  }

  /** No part of the request is answered. */
  private refuseAll({ id }: Message, code: string, message: string): void {
    const body = { error: { code, message } };
    this.later(() => this.send(JSON.stringify({ id, type: 2, message: { statusCode: 400, headers: {}, body } })));
  }

  /** What the host does not know ends the test, whatever the program makes of the answer. */
  private meet(problem: Error): void {
    this.unknown.push(problem.message);
    this.cry(problem);
  }

  private tell(event: HostEvent): void {
    const [messageType, method] = EVENTS[event.kind];
    if (!this.workbook.registered.has(method)) return;
    const said =
      event.kind === "changed"
        ? {
            changeType: "RangeEdited",
            address: areaAddress(event.area),
            source: event.source,
            worksheetId: event.sheet.id,
          }
        : { worksheetId: event.sheet.id };
    const entry = {
      messageCategory: EVENT_CATEGORY,
      messageType,
      targetId: "Workbook",
      message: JSON.stringify(said),
      isRemoteOverride: event.kind === "changed" && event.source === "Remote",
    };
    this.later(() => this.send(JSON.stringify({ type: 3, message: { entries: [entry] } })));
  }
}
