/**
 * How often the grid looks whether it must draw. Browser only.
 *
 * As shipped, each of its drawings (the sheet, the editors of a cell and of a formula) asks sixty times a second
 * whether something changed, and a page at rest takes a seventh of a core. Here a drawing that stands asks no more;
 * what changes wakes it for the next frame.
 */
import type { Injector } from "@univerjs/core";
import { IRenderManagerService, Layer, type IRender, type Scene } from "@univerjs/engine-render";

/** Wakes what draws a scene. */
const wake = new WeakMap<Scene, () => void>();

const makeDirty = Layer.prototype.makeDirty;
/** Whatever changes in a drawing ends here. */
Layer.prototype.makeDirty = function (state) {
  makeDirty.call(this, state);
  if (state !== false) wake.get(this.scene)?.();
  return this;
};

/** How long a drawing stands at least while a workbook opens, in ms: it is of what is computed so far. */
const STANDS_MS = 500;

/**
 * Lets all drawings of the grid rest, those that come later too. While its workbook opens, the sheet is drawn a dozen
 * times as shipped, with what has come of its values and its surroundings; here, now and then.
 * @returns to be called when it is open: each change is drawn at once from then on
 */
export function restBetweenDrawings(injector: Injector): () => void {
  const drawings = injector.get(IRenderManagerService);
  let opening = true;
  const rest = ({ engine, scene, activated$ }: IRender) => {
    let [shown, last] = [false, -Infinity];
    const draw = () => {
      if (opening && performance.now() < last + STANDS_MS) return;
      last = performance.now();
      scene.render();
      // The library's own task goes too.
      if (!scene.isDirty()) engine.stopRenderLoop();
    };
    wake.set(scene, () => {
      if (shown) engine.runRenderLoop(draw);
    });
    activated$.subscribe((now) => {
      shown = now;
      if (!shown) return;
      // The library's own task would not wait.
      engine.stopRenderLoop();
      engine.runRenderLoop(draw);
    });
  };
  for (const drawing of drawings.getRenderAll().values()) rest(drawing);
  // Ends with the grid.
  drawings.created$.subscribe(rest);
  return () => void (opening = false);
}
