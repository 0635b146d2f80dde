// SPDX-License-Identifier: MIT
// @ts-check
/// Elements kept in step with a description of them: what has the same key stays the same element, so that
/// focus, listeners and what a screen reader has said of it stay.

/**
 * @typedef {Record<string, string|number|boolean|null|undefined|((e: any) => void)>} Attributes
 * @typedef {{tag: string, key: string, attributes: Attributes, children: (Spec|string)[]}} Spec
 */

const SVG = "http://www.w3.org/2000/svg";
const SVG_TAGS = new Set([
  "svg",
  "g",
  "path",
  "rect",
  "circle",
  "ellipse",
  "line",
  "polygon",
  "polyline",
  "text",
  "title",
  "desc",
  "defs",
  "pattern",
]);

/**
 * @param {string} tag with its key after a hash: "li#one"
 * @param {Attributes} [attributes] `on...` listens; `=name` sets a property; `--name` a custom property of the style
 * @param {(Spec|string|null|undefined|false)[]} children
 * @returns {Spec}
 */
export function h(tag, attributes = {}, ...children) {
  const [name, key] = tag.split("#");
  return {
    tag: name,
    key: key ?? "",
    attributes,
    children: /** @type {(Spec|string)[]} */ (
      children.filter((c) => c !== null && c !== undefined && c !== false && c !== "")
    ),
  };
}

/** @type {WeakMap<Element, {attributes: Attributes, listeners: Map<string, (e: any) => void>, key: string}>} */
const known = new WeakMap();

/** @param {Element} element @param {Attributes} now */
function setAttributes(element, now) {
  const state = known.get(element);
  if (!state) return;
  for (const name of Object.keys(state.attributes))
    if (!(name in now) && !name.startsWith("on")) setOne(element, name, null);
  for (const name of [...state.listeners.keys()])
    if (!(`on${name}` in now)) {
      element.removeEventListener(name, dispatch);
      state.listeners.delete(name);
    }
  for (const [name, value] of Object.entries(now)) {
    if (name.startsWith("on") && typeof value === "function") {
      if (!state.listeners.has(name.slice(2))) element.addEventListener(name.slice(2), dispatch);
      state.listeners.set(name.slice(2), value);
    } else if (name.startsWith("=") || state.attributes[name] !== value) setOne(element, name, value);
  }
  state.attributes = now;
}

/** @param {Element} element @param {string} name @param {any} value */
function setOne(element, name, value) {
  if (name.startsWith("=")) {
    const any = /** @type {any} */ (element);
    // what is being typed is not written over
    if (value !== null && any[name.slice(1)] !== value && !(name === "=value" && document.activeElement === element))
      any[name.slice(1)] = value;
  } else if (name.startsWith("--")) {
    /** @type {HTMLElement} */ (element).style.setProperty(name, value === null ? "" : String(value));
  } else if (value === null || value === undefined || value === false) element.removeAttribute(name);
  else element.setAttribute(name, value === true ? "" : String(value));
}

/** @param {Event} event */
function dispatch(event) {
  const element = /** @type {Element} */ (event.currentTarget);
  known.get(element)?.listeners.get(event.type)?.(event);
}

/** @param {Element} parent @param {(Spec|string|null|undefined|false)[]} wanted */
export function patch(parent, wanted) {
  const specs = /** @type {(Spec|string)[]} */ (
    wanted.filter((c) => c !== null && c !== undefined && c !== false && c !== "")
  );
  /** @type {Map<string, Element>} */ const keyed = new Map();
  for (const child of parent.children) {
    const key = known.get(child)?.key;
    if (key) keyed.set(`${child.localName}#${key}`, child);
  }
  let here = parent.firstChild;
  for (const spec of specs) {
    if (typeof spec === "string") {
      if (here && here.nodeType === 3) {
        if (here.nodeValue !== spec) here.nodeValue = spec;
        here = here.nextSibling;
      } else parent.insertBefore(document.createTextNode(spec), here);
      continue;
    }
    /** @type {Element|null} */ let element = null;
    if (spec.key) element = keyed.get(`${spec.tag}#${spec.key}`) ?? null;
    else if (
      here &&
      here.nodeType === 1 &&
      /** @type {Element} */ (here).localName === spec.tag &&
      known.get(/** @type {Element} */ (here))?.key === ""
    )
      element = /** @type {Element} */ (here);
    if (!element) {
      element = SVG_TAGS.has(spec.tag) ? document.createElementNS(SVG, spec.tag) : document.createElement(spec.tag);
      known.set(element, {attributes: {}, listeners: new Map(), key: spec.key});
    }
    if (element === here) here = here.nextSibling;
    else {
      const focused = element.isConnected && element.contains(document.activeElement) ? document.activeElement : null;
      parent.insertBefore(element, here);
      if (focused) /** @type {HTMLElement} */ (focused).focus({preventScroll: true});
    }
    // children first: a select's value needs its options
    patch(element, spec.children);
    setAttributes(element, spec.attributes);
  }
  while (here) {
    const next = here.nextSibling;
    here.remove();
    here = next;
  }
}
