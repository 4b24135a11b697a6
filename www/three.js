/**
 * The turning view of the vessel. It is drawn only when something changed and only
 * while it can be seen; fingers, wheel, keys and buttons carry the eye round the piece.
 */

import { ask, Stumble } from './door.js';
import { byId } from './page.js';
import { word } from './words.js';

/** @typedef {import('./ringwright.js').Design} Design */
/** @typedef {import('./ringwright.js').View3d} View3d */

/** How far an arrow key turns, as if a finger went this many pixels. */
const KEY_STEP_PX = 24;
/** How much nearer a key or a notch of the wheel comes. */
const KEY_ZOOM = 1.15;
const WHEEL_ZOOM_PER_PX = 1.0015;
/** A shape that takes longer than this to make waits until the hand rests for so long. */
const QUICK_MILLISECONDS = 6;
const REST_MILLISECONDS = 350;

/** @type {Readonly<Record<string, readonly [number, number]>>} */
const ARROWS = {
  ArrowLeft: [-KEY_STEP_PX, 0],
  ArrowRight: [KEY_STEP_PX, 0],
  ArrowUp: [0, -KEY_STEP_PX],
  ArrowDown: [0, KEY_STEP_PX],
};

/** @type {Readonly<Record<string, number>>} */
const NEARER = { '+': KEY_ZOOM, '=': KEY_ZOOM, '-': 1 / KEY_ZOOM };

/**
 * `view` is made when it is first needed and made anew when the library stumbled or
 * the graphics were lost; `pose` is where its eye was; `held` the design that it holds,
 * `lit` the name of what is touched, and `took` how many milliseconds that was in the making.
 * @type {{ view: View3d | null, pose: Float64Array | null, design: Design | null, of: string, lit: string, held: Design | null,
 *   took: number, rest: number, isBlank: boolean, isCut: boolean, isSeen: boolean, isAsked: boolean, isLost: boolean }}
 */
const three = {
  view: null, pose: null, design: null, of: '', lit: '', held: null, took: 0, rest: 0,
  isBlank: false, isCut: false, isSeen: false, isAsked: false, isLost: false,
};

/** Fingers on the canvas, by their pointer. @type {Map<number, { x: number, y: number }>} */
const fingers = new Map();

/** The canvas; its buttons and its note are named after it. */
const id = 'three';

/** @param {(name: string) => void} touch what a tap does to the thing under it */
export function setUpThree(touch) {
  const canvas = byId(id, HTMLCanvasElement);
  setUpFingers(canvas, touch);
  canvas.addEventListener('keydown', turnByKey);
  canvas.addEventListener('wheel', (event) => {
    // Until the view is picked out, the wheel goes on moving the page.
    if (document.activeElement !== canvas && !event.ctrlKey) return;
    event.preventDefault();
    turn((view) => view.zoom(WHEEL_ZOOM_PER_PX ** -event.deltaY));
  }, { passive: false });
  toggle('blank', (isOn) => { three.isBlank = isOn; });
  toggle('cut', (isOn) => {
    three.isCut = isOn;
    if (isOn) turn((view) => view.face_front());
  });
  byId(`${id}-front`, HTMLButtonElement).addEventListener('click', () => turn((view) => view.reset()));
  canvas.addEventListener('webglcontextlost', (event) => {
    // Else the browser would not give it back.
    event.preventDefault();
    three.isLost = true;
    drop();
    showMissing(true, 'three.lost');
  });
  canvas.addEventListener('webglcontextrestored', () => {
    three.isLost = false;
    showMissing(false);
    // Where it was hidden for less than a frame, no observer tells that it is back.
    askForFrame();
  });
  new ResizeObserver(askForFrame).observe(canvas);
  new IntersectionObserver((entries) => {
    three.isSeen = entries.some((entry) => entry.isIntersecting);
    askForFrame();
  }).observe(canvas);
  for (const query of ['(prefers-color-scheme: dark)', '(prefers-contrast: more)']) {
    matchMedia(query).addEventListener('change', askForFrame);
  }
}

/**
 * Shows a design's vessel; cheap while the canvas is out of sight.
 * @param {Design} design
 * @param {string} lit the name of what is touched
 * @param {string} of the record that it is of: each is seen whole first, from its usual side
 */
export function showThree(design, lit, of) {
  if (three.of !== of) {
    three.of = of;
    three.pose = null;
    three.isCut = false;
    byId(`${id}-cut`, HTMLButtonElement).setAttribute('aria-pressed', 'false');
    turn((view) => view.reset());
  }
  three.design = design;
  three.lit = lit;
  clearTimeout(three.rest);
  if (three.took <= QUICK_MILLISECONDS || !three.held) askForFrame();
  else three.rest = setTimeout(askForFrame, REST_MILLISECONDS);
}

/**
 * @param {string} name
 * @param {(isOn: boolean) => void} take
 */
function toggle(name, take) {
  const button = byId(`${id}-${name}`, HTMLButtonElement);
  button.addEventListener('click', () => {
    const isOn = button.getAttribute('aria-pressed') !== 'true';
    button.setAttribute('aria-pressed', String(isOn));
    take(isOn);
    three.held = null;
    askForFrame();
  });
}

/** Draws in the next frame, once for all that changes before it. */
function askForFrame() {
  if (three.isAsked || three.isLost || !three.isSeen || !three.design) return;
  three.isAsked = true;
  requestAnimationFrame(() => {
    three.isAsked = false;
    if (three.isLost || !three.isSeen) return;
    // A view that stumbled is dropped: the second try makes a new one.
    if (!draw()) draw();
  });
}

/** Whether the library came through. */
function draw() {
  const canvas = byId(id, HTMLCanvasElement);
  try {
    const view = viewOn(canvas);
    showMissing(!view);
    if (view) ask(() => drawWith(view, canvas));
    return true;
  } catch (cause) {
    if (!(cause instanceof Stumble)) throw cause;
    drop();
    return false;
  }
}

/**
 * @param {View3d} view
 * @param {HTMLCanvasElement} canvas
 */
function drawWith(view, canvas) {
  if (three.design && three.held !== three.design) {
    const start = performance.now();
    view.set_design(three.design, !three.isBlank, three.isCut);
    three.took = performance.now() - start;
    three.held = three.design;
  }
  if (three.design) view.light_up(three.design, three.lit);
  view.resize(canvas.clientWidth, canvas.clientHeight, devicePixelRatio);
  view.draw(getComputedStyle(canvas).getPropertyValue('--paper'));
  three.pose = view.pose();
}

/**
 * The view on the canvas; none where the browser has no WebGL2.
 * @param {HTMLCanvasElement} canvas
 */
function viewOn(canvas) {
  if (three.view) return three.view;
  three.held = null;
  three.view = ask((library) => {
    const view = library.View3d.on(canvas) ?? null;
    if (three.pose) view?.set_pose(three.pose);
    return view;
  });
  return three.view;
}

/** Lets go of the view. It is not freed: after a stumble its memory is another's. */
function drop() {
  three.view = null;
  three.held = null;
}

/**
 * @param {boolean} isMissing
 * @param {string} [why] the word for it
 */
function showMissing(isMissing, why = 'three.missing') {
  const note = byId(`${id}-missing`, HTMLElement);
  note.hidden = !isMissing;
  note.textContent = word(why);
  byId(id, HTMLCanvasElement).hidden = isMissing;
}

/**
 * Carries the eye, or asks what it sees.
 * @param {(view: View3d) => void} move
 */
function turn(move) {
  const { view } = three;
  if (!view) return;
  try {
    ask(() => move(view));
  } catch (cause) {
    if (!(cause instanceof Stumble)) throw cause;
    drop();
  }
  askForFrame();
}

/** Once round, slowly enough to be looked at. */
const ROUND_MILLISECONDS = 9000;

/**
 * Turns the piece round once by itself, until a hand takes it; not for whom moving pictures are a trouble.
 */
export function turnOnce() {
  if (matchMedia('(prefers-reduced-motion: reduce)').matches) return;
  const canvas = byId(id, HTMLCanvasElement);
  let last = 0;
  let left = ROUND_MILLISECONDS;
  canvas.dataset.turns = 'yes';
  const end = () => {
    left = 0;
    delete canvas.dataset.turns;
  };
  for (const kind of ['pointerdown', 'keydown']) canvas.addEventListener(kind, end, { once: true });
  const move = (/** @type {number} */ now) => {
    const passed = last > 0 ? Math.min(now - last, 100, left) : 0;
    last = now;
    // Across the lesser side is half a turn.
    const round = 2 * Math.min(canvas.clientWidth, canvas.clientHeight);
    if (passed > 0 && three.view) {
      left -= passed;
      turn((view) => view.orbit((round * passed) / ROUND_MILLISECONDS, 0));
    }
    if (left > 0) requestAnimationFrame(move);
    else end();
  };
  requestAnimationFrame(move);
}

/** @param {KeyboardEvent} event */
function turnByKey(event) {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const step = ARROWS[event.key];
  const nearer = NEARER[event.key];
  if (step) turn((view) => view.orbit(...step));
  else if (nearer) turn((view) => view.zoom(nearer));
  else if (event.key === 'Home') turn((view) => view.reset());
  else return;
  event.preventDefault();
}

/**
 * One finger turns, two come nearer, a tap touches.
 * @param {HTMLCanvasElement} canvas
 * @param {(name: string) => void} touch
 */
function setUpFingers(canvas, touch) {
  let isTap = false;
  /** @type {PointerEvent | null} */
  let down = null;
  /** Where the eye was when the first finger came. @type {Float64Array | null} */
  let pose = null;
  canvas.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    canvas.setPointerCapture(event.pointerId);
    isTap = fingers.size === 0;
    down = event;
    if (isTap) pose = three.view?.pose() ?? null;
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
  });
  canvas.addEventListener('pointermove', (event) => {
    const finger = fingers.get(event.pointerId);
    if (!finger) return;
    const from = down;
    if (from && ask((library) => library.View3d.is_drag(event.clientX - from.clientX, event.clientY - from.clientY))) isTap = false;
    const before = twoFingers();
    const [acrossPx, downPx] = [event.clientX - finger.x, event.clientY - finger.y];
    finger.x = event.clientX;
    finger.y = event.clientY;
    if (isTap) return;
    if (fingers.size === 1) turn((view) => view.orbit(acrossPx, downPx));
    else turn((view) => view.pinch(before, twoFingers()));
  });
  canvas.addEventListener('pointercancel', () => {
    // The finger was scrolling the page: what it turned before that was not meant.
    const was = pose;
    if (was) turn((view) => view.set_pose(was));
  });
  for (const end of ['pointerup', 'pointercancel', 'lostpointercapture']) {
    canvas.addEventListener(end, (event) => {
      if (event instanceof PointerEvent) fingers.delete(event.pointerId);
    });
  }
  canvas.addEventListener('click', (event) => {
    const { held } = three;
    if (!isTap || !held) return;
    let name = '';
    turn((view) => {
      name = view.touched(held, !three.isBlank, three.isCut, event.offsetX, event.offsetY);
    });
    if (name) touch(name);
  });
}

/** The places of the first two fingers. */
function twoFingers() {
  const places = [...fingers.values()].slice(0, 2).flatMap(({ x, y }) => [x, y]);
  return new Float64Array(places);
}
