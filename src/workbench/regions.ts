/**
 * F6 and Shift+F6 go from one part of the page to the next, from anywhere: the grid keeps Tab for itself, as a
 * spreadsheet does, so without them the keyboard could not leave it.
 */

export interface Region {
  readonly element: HTMLElement;
  /** Gives the keyboard to it. @returns false when it has nothing to give it to */
  focus(): boolean;
}

/** @param regions in the order in which one goes through them; where the keyboard is in none, it is in `home` */
export function goRoundRegions(regions: readonly Region[], home: Region): void {
  addEventListener(
    "keydown",
    (event) => {
      if (
        event.key !== "F6" ||
        event.ctrlKey ||
        event.altKey ||
        event.metaKey ||
        document.querySelector("dialog[open]")
      )
        return;
      event.preventDefault();
      event.stopPropagation();
      const here = regions.findIndex(({ element }) => element.contains(document.activeElement));
      const from = here < 0 ? regions.indexOf(home) : here;
      const step = event.shiftKey ? -1 : 1;
      for (let i = 1; i <= regions.length; i++) {
        const next = regions[(from + step * i + regions.length * i) % regions.length];
        if (next && isShown(next.element) && next.focus()) return;
      }
    },
    true,
  );
}

/** Gives the keyboard to the first thing in the element that takes it, `wanted` before others. */
export function focusWithin(element: HTMLElement, wanted: string): boolean {
  const candidates = [wanted, "button:not([disabled]), [href], input, select, textarea, [tabindex='0']"];
  const target = candidates.flatMap((which) => [...element.querySelectorAll<HTMLElement>(which)]).find(isShown);
  target?.focus();
  return target !== undefined;
}

function isShown(element: HTMLElement): boolean {
  return (
    !element.closest("[inert]") &&
    element.getClientRects().length > 0 &&
    getComputedStyle(element).visibility !== "hidden"
  );
}
