/** Prints a page of HTML without leaving this one. */

/** How long the frame stays when the browser does not say that printing has ended, in ms. */
const LONGEST = 600_000;

export function printPage(html: string): void {
  const frame = document.createElement("iframe");
  frame.style.cssText = "position:fixed;width:0;height:0;border:0";
  frame.title = "Report for printing";
  frame.srcdoc = html;
  const remove = () => frame.remove();
  frame.onload = () => {
    const page = frame.contentWindow;
    if (!page) return remove();
    page.addEventListener("afterprint", remove);
    setTimeout(remove, LONGEST);
    page.focus();
    page.print();
  };
  document.body.append(frame);
}
