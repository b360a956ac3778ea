/** Refusals: Excel's own, and the host's to go on with what it does not know. */

/** What Excel answers instead of a result; the codes are those of the client's error codes. */
export class ExcelFailure extends Error {
  constructor(
    readonly code: string,
    message: string,
  ) {
    super(message);
    this.name = "ExcelFailure";
  }
}

/** Something that this host does not stand for. No code: whoever asked for it has to teach the host, not to cope. */
export class UnknownConstruct extends Error {
  constructor(what: string) {
    super(`The host does not know ${what}. Teach it what the documentation says (tests/excelHost).`);
    this.name = "UnknownConstruct";
  }
}
