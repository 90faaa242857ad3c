/**
 * The sign that a press on a link was heard. It is set on the document itself, before React is asked for anything, so
 * that it shows with the next frame however long the page that comes takes to be made.
 */
const ATTRIBUTE = "data-going";
/** An answer that takes longer will not come, or came without another address. */
const GIVE_UP_MILLIS = 20_000;

let pressed: Element | undefined;
let timer: ReturnType<typeof setTimeout> | undefined;

export function showGoing(link?: Element): void {
  endGoing();
  pressed = link;
  document.documentElement.setAttribute(ATTRIBUTE, "");
  link?.setAttribute(ATTRIBUTE, "");
  timer = setTimeout(endGoing, GIVE_UP_MILLIS);
}

export function endGoing(): void {
  clearTimeout(timer);
  document.documentElement.removeAttribute(ATTRIBUTE);
  pressed?.removeAttribute(ATTRIBUTE);
  pressed = undefined;
}

/** The link that a press leads to another page of ours by; undefined when it stays, downloads or opens elsewhere. */
export function linkAway(event: MouseEvent, here: string): HTMLAnchorElement | undefined {
  if (event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey)
    return undefined;
  const link = event.target instanceof Element ? event.target.closest("a") : null;
  if (!link?.href || link.hasAttribute("download") || (link.target !== "" && link.target !== "_self"))
    return undefined;
  const from = new URL(here);
  const to = new URL(link.href, here);
  const isOther = to.origin === from.origin && to.pathname + to.search !== from.pathname + from.search;
  return isOther ? link : undefined;
}
