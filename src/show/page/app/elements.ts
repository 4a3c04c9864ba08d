/** Small helpers for elements. */

export function byId<T extends Element = HTMLElement>(id: string): T {
  const found = document.getElementById(id);
  if (found === null) throw new Error(`the page lacks #${id}`);
  return found as unknown as T;
}

export type ElementAttributes = Readonly<Record<string, string | number>>;

export function html(name: string, attributes: ElementAttributes = {}, text = ''): HTMLElement {
  return filled(document.createElement(name), attributes, text);
}

export function svg(name: string, attributes: ElementAttributes = {}, text = ''): SVGElement {
  return filled(document.createElementNS('http://www.w3.org/2000/svg', name), attributes, text);
}

function filled<E extends Element>(e: E, attributes: ElementAttributes, text: string): E {
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, String(v));
  if (text !== '') e.textContent = text;
  return e;
}

/** Calls `draw` once before the next frame however often it is asked to. */
export function onFrame(draw: () => void): () => void {
  let waiting = false;
  return () => {
    if (waiting) return;
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      draw();
    });
  };
}
