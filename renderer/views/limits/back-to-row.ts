/** After a change the focus goes back to the row, whose button may be gone. */
export function backToRow(): void {
  requestAnimationFrame(() => document.querySelector<HTMLElement>('.limits tr[aria-selected="true"]')?.focus());
}
