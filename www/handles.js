/** Handles on a drawing: dots that a finger pulls, and arrow keys step. */

import { make } from './page.js';
import { settle } from './work.js';

/** @typedef {import('./ringwright.js').Handle} Handle */

/**
 * What hands do to the handles of a drawing. Places are in CSS pixels from its corner.
 * @typedef {object} Hands
 * @property {(place: number) => void} hold a finger takes a handle
 * @property {(place: number, x: number, y: number, isSameStep: boolean) => boolean} pull says whether anything moved
 * @property {() => void} letGo
 * @property {(place: number) => void} pick a handle has the focus
 * @property {(place: number, up: number, right: number, isSameStep: boolean) => void} step
 * @property {(place: number) => void} [remove]
 * @property {(event: PointerEvent) => void} [beside] a finger touched beside the dot, and pulled nothing
 */

/** Up and right. @type {Readonly<Record<string, readonly [number, number]>>} */
const ARROWS = { ArrowUp: [1, 0], ArrowDown: [-1, 0], ArrowRight: [0, 1], ArrowLeft: [0, -1] };

/** How long after a finger is lifted its click may still come. */
const CLICK_MILLISECONDS = 400;

/**
 * The click of a tap comes after what the tap opened: it would land on what stands under the
 * finger by then, and close it again.
 */
function swallowClick() {
  const off = new AbortController();
  const once = { capture: true, signal: off.signal };
  addEventListener('click', (event) => {
    // Those of keys and of scripts are meant.
    if (event.isTrusted && event.detail > 0) {
      event.preventDefault();
      event.stopPropagation();
    }
    off.abort();
  }, once);
  addEventListener('pointerdown', () => off.abort(), once);
  setTimeout(() => off.abort(), CLICK_MILLISECONDS);
}

/**
 * A handle on a drawing; all of one pull is one step of undo.
 * @param {HTMLElement} box
 * @param {number} place
 * @param {Hands} hands
 */
export function makeHandle(box, place, hands) {
  const handle = make('button', { className: 'handle' }, make('span', { className: 'dot-room' }));
  handle.type = 'button';
  let isHeld = false;
  let isMoved = false;
  let isBeside = false;
  const down = { x: 0, y: 0 };
  handle.addEventListener('pointerdown', (event) => {
    event.preventDefault();
    // Beside its dot, what is touched and not pulled is meant to be what lies there.
    isBeside = Boolean(hands.beside) && event.target === handle;
    [down.x, down.y] = [event.clientX, event.clientY];
    if (!isBeside) handle.focus();
    handle.setPointerCapture(event.pointerId);
    [isHeld, isMoved] = [!isBeside, false];
    settle();
    if (isHeld) hands.hold(place);
  });
  handle.addEventListener('pointermove', (event) => {
    if (isBeside && !isHeld && handle.hasPointerCapture(event.pointerId)) {
      // A finger that goes up or down moves the page: the browser tells so only after its first step.
      const isSwipe = event.pointerType === 'touch' && Math.abs(event.clientY - down.y) >= Math.abs(event.clientX - down.x);
      if (isSwipe) return;
      isHeld = true;
      hands.hold(place);
    }
    if (!isHeld) return;
    const { left, top } = box.getBoundingClientRect();
    // A pull that is stopped at once is no step of undo yet.
    if (hands.pull(place, event.clientX - left, event.clientY - top, isMoved)) isMoved = true;
    handle.classList.toggle('pulled', isMoved);
  });
  /** @param {PointerEvent} event */
  const end = (event) => {
    if (isHeld) {
      isHeld = false;
      handle.classList.remove('pulled');
      settle();
      hands.letGo();
    }
    if (event.type !== 'pointerup') return;
    swallowClick();
    if (isBeside && !isMoved) hands.beside?.(event);
  };
  handle.addEventListener('pointerup', end);
  handle.addEventListener('pointercancel', end);
  handle.addEventListener('focus', () => {
    if (!isHeld) hands.pick(place);
  });
  handle.addEventListener('keydown', (event) => {
    const arrow = ARROWS[event.key];
    const isAway = event.key === 'Delete' || event.key === 'Backspace';
    if (!arrow && !isAway) return;
    event.preventDefault();
    if (arrow) hands.step(place, ...arrow, event.repeat);
    else hands.remove?.(place);
  });
  box.append(handle);
  return handle;
}

/**
 * As many handles as the drawing has points, each at its own.
 * @param {HTMLButtonElement[]} handles
 * @param {Handle[]} points
 * @param {(place: number) => HTMLButtonElement} makeOne
 * @param {number} pickedPlace
 */
export function setHandles(handles, points, makeOne, pickedPlace) {
  while (handles.length < points.length) handles.push(makeOne(handles.length));
  while (handles.length > points.length) handles.pop()?.remove();
  for (const point of points) {
    const handle = handles[point.place];
    if (!handle) continue;
    placeHandle(handle, point);
    handle.classList.toggle('corner', point.is_corner);
    handle.classList.toggle('near', point.is_near);
    handle.classList.toggle('held', point.place === pickedPlace);
  }
}

/**
 * @param {HTMLButtonElement} handle
 * @param {Handle} point
 */
export function placeHandle(handle, point) {
  handle.style.translate = `${point.x}px ${point.y}px`;
  handle.setAttribute('aria-label', point.label);
}
