/** What the pane puts around the panel: paragraphs and buttons as plain elements. */

export function paragraph(text: string, role?: "status" | "alert"): HTMLElement {
  const words = document.createElement("p");
  words.textContent = text;
  if (role) words.setAttribute("role", role);
  return words;
}

export function button(label: string, act: () => void): HTMLButtonElement {
  const made = document.createElement("button");
  made.textContent = label;
  made.addEventListener("click", act);
  return made;
}
