/**
 * Arrow keys among the buttons of a group of which one is in the tab order. The component library's own way puts
 * elements into the page that are hidden from the tree and yet take the keyboard.
 */
import type { KeyboardEvent } from "react";

/** What a key does to the place among so many. */
const STEPS: Readonly<Record<string, (at: number, length: number) => number>> = {
  ArrowRight: (at, length) => (at + 1) % length,
  ArrowLeft: (at, length) => (at + length - 1) % length,
  Home: () => 0,
  End: (_, length) => length - 1,
};
/** In a group of several lines up and down go on and back, too. */
const LINES: Readonly<Record<string, string>> = { ArrowDown: "ArrowRight", ArrowUp: "ArrowLeft" };

/** @param lines whether the group may have several @returns what the group does with a key */
export function arrowKeys(lines = false): (event: KeyboardEvent<HTMLElement>) => void {
  return (event) => {
    const buttons = [...event.currentTarget.querySelectorAll<HTMLElement>("button")];
    const at = buttons.findIndex((button) => button === document.activeElement);
    const step = STEPS[(lines && LINES[event.key]) || event.key];
    if (!step || at < 0) return;
    event.preventDefault();
    buttons[step(at, buttons.length)]?.focus();
  };
}
