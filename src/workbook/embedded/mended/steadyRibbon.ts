/**
 * When the grid's row of buttons is made anew. Browser only.
 *
 * As shipped, each part that adds buttons has all of them made anew, thirty times while a workbook opens; and whenever
 * a button says again whether it is hidden, with each key that is typed, all of them are drawn anew. Here they are made
 * once for all that is added at the same time, and drawn when there are others.
 */
import { DesktopRibbonService, type IMenuSchema } from "@univerjs/ui";

/** What of the service is not public. */
interface Ribbon {
  readonly _ribbon$: { getValue(): readonly IMenuSchema[] };
  _updateRibbon(): void;
  _setRibbon(groups: IMenuSchema[]): void;
}

const ribbon = DesktopRibbonService.prototype as unknown as Ribbon;
const { _updateRibbon: makeAnew, _setRibbon: draw } = ribbon;
const asked = new WeakSet<Ribbon>();

ribbon._updateRibbon = function () {
  if (asked.has(this)) return;
  asked.add(this);
  queueMicrotask(() => {
    asked.delete(this);
    makeAnew.call(this);
  });
};

ribbon._setRibbon = function (groups) {
  if (!sameButtons(groups, this._ribbon$.getValue())) draw.call(this, groups);
};

function sameButtons(some: readonly IMenuSchema[] = [], others: readonly IMenuSchema[] = []): boolean {
  return (
    some.length === others.length &&
    some.every(({ key, item, children }, i) => {
      const other = others[i];
      return key === other?.key && item === other.item && sameButtons(children, other.children);
    })
  );
}
