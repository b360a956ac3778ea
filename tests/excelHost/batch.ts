/**
 * One request of the client, worked off action by action as it comes over the bridge: object paths become objects of
 * the workbook, actions become results. An action that fails ends the request; what went before it stays done, and its
 * results are answered beside the error.
 */
import { ExcelFailure, UnknownConstruct } from "./failure";
import { isRemote, type Kind, type Remote } from "./model";

interface PathInfo {
  readonly Id: number;
  readonly ObjectPathType: number;
  readonly Name: string;
  readonly ParentObjectPathId?: number;
  readonly ArgumentInfo?: ArgumentInfo;
}
interface ArgumentInfo {
  readonly Arguments?: readonly unknown[];
  /** Beside each argument that is an object, the id of its path. */
  readonly ReferencedObjectPathIds?: readonly unknown[];
}
export interface ActionInfo {
  readonly Id: number;
  readonly ActionType: number;
  readonly Name: string;
  readonly ObjectPathId: number;
  readonly ArgumentInfo?: ArgumentInfo;
  readonly QueryInfo?: {
    readonly Select?: readonly string[];
    readonly Expand?: readonly string[];
    readonly Top?: number;
  };
  readonly ObjectState?: Readonly<Record<string, unknown>>;
}
export interface RequestBody {
  readonly Actions: readonly ActionInfo[];
  readonly ObjectPaths: Readonly<Record<string, PathInfo>>;
}

interface Answer {
  readonly Results: { readonly ActionId: number; readonly Value: unknown }[];
  readonly TraceIds: readonly number[];
  Error?: {
    readonly ActionIndex: number;
    readonly Code: string;
    readonly Message: string;
    readonly Location: string;
    readonly HttpStatusCode: number;
  };
}

/** What a request needs from the host that answers it. */
export interface Surroundings {
  readonly root: Remote;
  readonly services: Readonly<Record<string, Remote>>;
  /** Objects that the client asked to keep across requests. */
  readonly kept: Map<string, Remote>;
  /** Told of each step before it is done; may refuse it. */
  before(step: string): void;
}

/**
 * Cells of a range beyond which Excel hands none over:
 * learn.microsoft.com/office/dev/add-ins/concepts/resource-limits-and-performance-optimization
 */
const MOST_CELLS = 5_000_000;
/** Of a range, what is one value for all of its cells. */
const OF_THE_WHOLE = /^(Address|RowIndex|ColumnIndex|RowCount|ColumnCount|CellCount|RowHidden)$/;

const wireName = (name: string) => name.charAt(0).toUpperCase() + name.slice(1);

export class Batch {
  private readonly objects = new Map<number, Remote>();
  private readonly referenceIds = new Map<Remote, string>();
  private location = "";

  constructor(
    private readonly body: RequestBody,
    private readonly around: Surroundings,
  ) {}

  answer(): Answer {
    const traces = this.body.Actions.filter(({ ActionType }) => ActionType === 5).map(({ Id }) => Id);
    const answer: Answer = { Results: [], TraceIds: traces };
    for (const [index, action] of this.body.Actions.entries()) {
      try {
        answer.Results.push({ ActionId: action.Id, Value: this.act(action) });
      } catch (problem) {
        if (!(problem instanceof ExcelFailure)) throw problem;
        const { code, message } = problem;
        const at = { ActionIndex: index, Location: this.location, HttpStatusCode: 400 };
        return { ...answer, Error: { ...at, Code: code, Message: message } };
      }
    }
    return answer;
  }

  private act(action: ActionInfo): unknown {
    // learn.microsoft.com/office/dev/add-ins/develop/application-specific-api-model: the numbers are the client's own.
    switch (action.ActionType) {
      case 1:
        return this.instantiated(this.object(action.ObjectPathId));
      case 2:
        return this.loaded(this.object(action.ObjectPathId), action.QueryInfo ?? {});
      case 3:
        return this.called(action);
      case 4:
        return this.set(this.there(action.ObjectPathId), action.Name, this.given(action.ArgumentInfo)[0]);
      case 5:
        return null;
      case 9:
        for (const [name, value] of Object.entries(action.ObjectState ?? {}))
          this.set(this.there(action.ObjectPathId), wireName(name), value);
        return null;
      default:
        throw new UnknownConstruct(`actions of type ${action.ActionType} (${action.Name})`);
    }
  }

  /** An object of the request; null objects too. */
  private object(id: number): Remote {
    let found = this.objects.get(id);
    if (!found) this.objects.set(id, (found = this.resolved(this.path(id))));
    return found;
  }

  private path(id: number): PathInfo {
    const path = this.body.ObjectPaths[id];
    if (!path) throw new UnknownConstruct(`the object path ${id}, which the request does not list`);
    return path;
  }

  private resolved(path: PathInfo): Remote {
    switch (path.ObjectPathType) {
      case 1:
        return this.around.root;
      case 2:
        return known(this.around.services, path.Name, "the service");
      case 3: {
        const made = this.method(this.parent(path), path.Name, this.given(path.ArgumentInfo));
        if (!isRemote(made)) throw new UnknownConstruct(`${path.Name} as a method that gives an object`);
        return made;
      }
      case 4: {
        const parent = this.object(path.ParentObjectPathId ?? 0);
        const part = known(parent.kind.parts ?? {}, path.Name, `of ${parent.kind.name} the object`);
        return parent.target === null ? { kind: nothing, target: null } : part(parent.target);
      }
      case 5: {
        const parent = this.parent(path);
        const { item, name } = parent.kind;
        if (!item) throw new UnknownConstruct(`items of ${name} by their key`);
        this.step(`${name}.GetItem`);
        return item(parent.target, this.given(path.ArgumentInfo)[0]);
      }
      case 6: {
        const kept = this.around.kept.get(path.Name);
        if (!kept) throw new UnknownConstruct(`the kept object ${path.Name}`);
        return kept;
      }
      case 7:
        return { kind: nothing, target: null };
      default:
        throw new UnknownConstruct(`object paths of type ${path.ObjectPathType} (${path.Name})`);
    }
  }

  private parent(path: PathInfo): Remote {
    return this.there(path.ParentObjectPathId ?? 0);
  }

  /** An object that something is done to. The documentation has a null object asked for nothing but isNullObject. */
  private there(id: number): Remote {
    const found = this.object(id);
    this.location = found.kind.name;
    const gone = found.target !== null && found.kind.gone?.(found.target);
    if (found.target === null || gone) throw new ExcelFailure("ItemNotFound", "The requested resource doesn't exist.");
    return found;
  }

  private given(info: ArgumentInfo = {}): unknown[] {
    return (info.Arguments ?? []).map((argument, index) => {
      const id = info.ReferencedObjectPathIds?.[index];
      return typeof id === "number" && id > 0 ? this.object(id) : argument;
    });
  }

  private step(step: string): void {
    this.location = step;
    this.around.before(step);
  }

  private method(on: Remote, name: string, given: readonly unknown[]): unknown {
    const { kind, target } = on;
    if (name === "_KeepReference") return this.keep(on);
    if (name === "_RemoveReference") return void this.around.kept.delete(String(given[0]));
    const method = known(kind.methods ?? {}, name, `of ${kind.name} the method`);
    this.step(`${kind.name}.${name}`);
    return method(target, ...given);
  }

  private called({ ObjectPathId, Name, ArgumentInfo }: ActionInfo): unknown {
    const on = this.object(ObjectPathId);
    // A null object has nothing to keep, and the client asks before it knows.
    if (Name === "_KeepReference") return this.keep(on);
    const value = this.method(this.there(ObjectPathId), Name, this.given(ArgumentInfo));
    if (isRemote(value)) throw new UnknownConstruct(`${Name} as a method that gives a value`);
    return value ?? null;
  }

  private keep(on: Remote): null {
    if (on.target === null) return null;
    const id = `kept ${this.around.kept.size + 1} ${Math.random()}`;
    this.around.kept.set(id, on);
    this.referenceIds.set(on, id);
    return null;
  }

  private set({ kind, target }: Remote, name: string, value: unknown): null {
    const setter = known(kind.set ?? {}, name, `of ${kind.name} the writable property`);
    this.step(`${kind.name}.${name}=`);
    setter(target, value);
    return null;
  }

  /** What the client learns of an object before it loads anything: how to ask for it the next time. */
  private instantiated(one: Remote): unknown {
    if (one.target === null) return null;
    const reference = this.referenceIds.get(one);
    const key = one.kind.key?.(one.target);
    return { ...(key === undefined ? {} : { _Id: key }), ...(reference ? { _ReferenceId: reference } : {}) };
  }

  private loaded(one: Remote, { Select, Expand, Top }: NonNullable<ActionInfo["QueryInfo"]>): unknown {
    if (!Select || Select.length === 0) throw new UnknownConstruct(`load of ${one.kind.name} without names`);
    if (Expand || Top !== undefined) throw new UnknownConstruct(`load of ${one.kind.name} with expand or top`);
    if (one.target === null) return null;
    const gone = one.kind.gone?.(one.target);
    this.step(`load ${one.kind.name}`);
    if (gone) throw new ExcelFailure("ItemNotFound", "The requested resource doesn't exist.");
    return { ...(this.instantiated(one) as object), ...this.selected(one, Select) };
  }

  /** Of a collection, the client asks for its items' properties and its own by name alone, having cut off "items/". */
  private selected(one: Remote, names: readonly string[]): Record<string, unknown> {
    const { kind } = one;
    if (!kind.items) return this.properties(one, names);
    const own = names.filter((name) => Object.hasOwn(kind.get ?? {}, wireName(name)));
    const below = names.filter((name) => !own.includes(name) && name !== "");
    const items = kind
      .items(one.target)
      .map((item) => ({ ...(this.instantiated(item) as object), ...this.selected(item, below) }));
    return {
      ...this.properties(one, own),
      ...(own.length === names.length && own.length > 0 ? {} : { _Items: items }),
    };
  }

  private properties(one: Remote, names: readonly string[]): Record<string, unknown> {
    const value: Record<string, unknown> = {};
    const deeper = new Map<string, string[]>();
    for (const name of names) {
      const [first = "", ...rest] = name.split("/");
      if (rest.length > 0) deeper.set(first, [...(deeper.get(first) ?? []), rest.join("/")]);
      else value[wireName(first)] = this.property(one, wireName(first));
    }
    for (const [first, below] of deeper) {
      const part = known(one.kind.parts ?? {}, wireName(first), `of ${one.kind.name} the object`);
      value[wireName(first)] = this.selected(part(one.target), below);
    }
    return value;
  }

  private property({ kind, target }: Remote, name: string): unknown {
    const read = known(kind.get ?? {}, name, `of ${kind.name} the property`);
    if (kind.size && !OF_THE_WHOLE.test(name) && kind.size(target) > MOST_CELLS)
      throw new ExcelFailure(
        "RangeExceedsLimit",
        "The cell count in the range has exceeded the maximum supported number.",
      );
    return read(target);
  }
}

/** What a path leads to from a null object. */
const nothing: Kind<unknown> = { name: "NullObject" };

function known<T>(from: Readonly<Record<string, T>>, name: string, what: string): T {
  const found = Object.hasOwn(from, name) ? from[name] : undefined;
  if (found === undefined) throw new UnknownConstruct(`${what} ${name}`);
  return found;
}
