/** The grid and the panel, the large parts of the page: they come while it finds out what to open. */
import { fetched } from "../panel/fetched";
import { loadGrid } from "../workbook/embedded/loadGrid";

/** Both parts; they are fetched once. @throws Error that says what to do where they cannot be had */
export async function pageParts() {
  const [{ openGrid }, { mountPanel }] = await fetched(Promise.all([loadGrid(), import("../panel/mount")]));
  return { openGrid, mountPanel };
}
