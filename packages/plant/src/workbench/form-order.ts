const entries = 'input, select, textarea, button.main-act-button, button[data-goes-on]';

function isOpen(element: HTMLElement): boolean {
  return !element.matches(':disabled') && element.offsetParent !== null;
}

/** Puts the focus on what follows in the order of the hands: the next field, at the end the main act. */
export function goOn(from: HTMLElement): void {
  const page = from.closest('form, .page') ?? document.body;
  const order = [...page.querySelectorAll<HTMLElement>(entries)].filter(isOpen);
  const radio = from instanceof HTMLInputElement && from.type === 'radio' ? from.name : undefined;
  const next = order
    .slice(order.indexOf(from) + 1)
    .find((element) => !(radio && element instanceof HTMLInputElement && element.name === radio));
  if (!next) return;
  next.focus();
  if (next instanceof HTMLInputElement && next.type !== 'radio' && next.type !== 'checkbox') {
    next.select();
  }
}
