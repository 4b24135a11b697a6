/** Finding and making the page's elements. */

/**
 * The element with this id, of the class that is expected.
 * @template {HTMLElement} T
 * @param {string} id
 * @param {new () => T} kind
 * @returns {T}
 */
export function byId(id, kind) {
  const element = document.getElementById(id);
  if (!(element instanceof kind)) throw new Error(`the page has no ${kind.name} #${id}`);
  return element;
}

/**
 * A mixed number goes to the next line whole: at its start the fraction would be read alone.
 * @param {string} text
 */
export function unbroken(text) {
  return text.replace(/(\d) (?=\d+\/\d)/gu, '$1\u00a0');
}

/**
 * A new element. Text always goes in as text, never as markup.
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} tag
 * @param {{ className?: string, text?: string }} [look]
 * @param {...Node} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function make(tag, look = {}, ...children) {
  const element = document.createElement(tag);
  if (look.className) element.className = look.className;
  if (look.text !== undefined) element.textContent = look.text;
  element.append(...children);
  return element;
}

/**
 * A button with words on it.
 * @param {string} text
 * @param {() => void} onTap
 */
export function makeButton(text, onTap) {
  const button = make('button', { text });
  button.type = 'button';
  button.addEventListener('click', onTap);
  return button;
}

/**
 * A picture that the library drew. Its text is the library's own and is escaped there.
 * What stays of the picture before is kept: while a curve is pulled most of it does, and
 * the browser need not lay it out anew.
 * @param {Element} box
 * @param {string} svg
 */
export function setPicture(box, svg) {
  const template = document.createElement('template');
  template.innerHTML = svg;
  const old = box.querySelector('svg');
  const fresh = template.content.firstElementChild;
  if (old && fresh) becomeLike(old, fresh);
  else if (old) old.remove();
  else box.prepend(template.content);
}

/**
 * A picture that is only looked at, as an image: to the page it is one element.
 * @param {HTMLImageElement} image
 * @param {string} svg none where it is to be let go
 */
export function setImage(image, svg) {
  const old = image.src;
  // Without one it lets go of the old, which may still be on its way.
  if (svg) image.src = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  else image.removeAttribute('src');
  if (old) URL.revokeObjectURL(old);
}

/**
 * @param {Element} old
 * @param {Element} fresh
 */
function becomeLike(old, fresh) {
  if (old.isEqualNode(fresh)) return;
  const names = fresh.getAttributeNames();
  const isAlike = old.tagName === fresh.tagName
    && old.childElementCount === fresh.childElementCount
    && names.length === old.attributes.length
    && names.every((name) => old.hasAttribute(name));
  if (!isAlike) {
    old.replaceWith(fresh);
    return;
  }
  for (const name of names) {
    const value = fresh.getAttribute(name) ?? '';
    if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  }
  if (fresh.childElementCount === 0) {
    if (old.textContent !== fresh.textContent) old.textContent = fresh.textContent;
    return;
  }
  if (fresh.tagName === 'text') {
    // Letters stand between its elements.
    old.replaceChildren(...fresh.childNodes);
    return;
  }
  // A child that takes another's place leaves the fresh list, so that list is read before.
  const parts = [...fresh.children];
  [...old.children].forEach((part, at) => {
    const like = parts[at];
    if (like) becomeLike(part, like);
  });
}

/**
 * Gives a list its lines. Lines that stay are not touched: a button that vanished under a
 * finger would swallow the tap, and one that came anew would lose the focus.
 * @param {HTMLElement} list
 * @param {HTMLElement[]} lines
 */
export function setLines(list, lines) {
  const areInPlace = lines.length === list.children.length
    && lines.every((line, at) => list.children.item(at) === line);
  if (!areInPlace) list.replaceChildren(...lines);
}

/** Opens dialogs, and closes them by their own buttons. */
export function wireDialogs() {
  for (const button of document.querySelectorAll('dialog [data-close]')) {
    button.addEventListener('click', () => button.closest('dialog')?.close());
  }
}

/**
 * What a tap on a button does.
 * @param {string} id
 * @param {() => void} act
 */
export function onTap(id, act) {
  byId(id, HTMLButtonElement).addEventListener('click', act);
}

/** The reader's language, in which dates are told: an engine without one may give what is no language's name. */
export function readersLanguage() {
  try {
    new Date(0).toLocaleString(navigator.language);
    return navigator.language || 'en-US';
  } catch {
    return 'en-US';
  }
}
