/**
 * How often the grid looks whether it must draw. Browser only.
 *
 * As shipped, each of its drawings (the sheet, the editors of a cell and of a formula) asks sixty times a second
 * whether something changed, and a page at rest takes a seventh of a core. Here a drawing that stands asks no more;
 * what changes wakes it for the next frame.
 */
import { toDisposable, type IDisposable, type Injector } from "@univerjs/core";
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

/** Lets all drawings of the grid rest, those that come later too. */
export function restBetweenDrawings(injector: Injector): IDisposable {
  const drawings = injector.get(IRenderManagerService);
  for (const drawing of drawings.getRenderAll().values()) rest(drawing);
  const later = drawings.created$.subscribe(rest);
  return toDisposable(() => later.unsubscribe());
}

function rest({ engine, scene, activated$ }: IRender): void {
  let shown = false;
  const draw = () => {
    scene.render();
    // The library's own task goes too.
    if (!scene.isDirty()) engine.stopRenderLoop();
  };
  wake.set(scene, () => {
    if (shown) engine.runRenderLoop(draw);
  });
  activated$.subscribe((now) => {
    shown = now;
    if (shown) engine.runRenderLoop(draw);
  });
}
