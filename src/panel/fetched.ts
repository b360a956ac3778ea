/** Files of the panel that come when they are asked for. */

/** @throws Error that says what to do where the file cannot be had */
export function fetched<T>(file: Promise<T>): Promise<T> {
  return file.catch(() => {
    throw new Error(
      "its file cannot be had, for what served this page has stopped. Save a copy of your work, start it again and open the page anew",
    );
  });
}
