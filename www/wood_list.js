/**
 * The list under a field for a wood: what may be meant by what was typed, with its color.
 * A name that no wood has, or several may, is asked about once.
 */

import { change } from './change.js';
import { ask } from './door.js';
import { byId, make, makeButton, onTap } from './page.js';
import { design } from './work.js';

/** @typedef {import('./ringwright.js').WoodOffer} WoodOffer */

/**
 * What becomes of a name.
 * @typedef {object} Hands
 * @property {(name: string, isSameStep: boolean) => void} take
 * @property {'first' | 'after' | 'never'} asks when a name that is not known is asked about: before it is
 *   taken, once it is taken, or not at all
 * @property {boolean} [isForm] whether a button takes it, and leaving the field does not
 * @property {() => void} [onType]
 */

/** A wood's name as the library takes it. */
const LETTERS_MOST = 80;

/**
 * The field whose list is shown, and which of its lines is marked.
 * @type {{ input: HTMLInputElement | null, hands: Hands | null, offers: WoodOffer[], marked: number }}
 */
const shown = { input: null, hands: null, offers: [], marked: -1 };

/** @param {string} text */
function offersFor(text) {
  return ask((library) => library.offer_woods(design(), text));
}

/**
 * Gives a field its list.
 * @param {HTMLInputElement} input
 * @param {Hands} hands
 */
export function woodListFor(input, hands) {
  for (const [name, value] of Object.entries({
    role: 'combobox', 'aria-autocomplete': 'list', 'aria-expanded': 'false', 'aria-controls': 'wood-offers',
    autocomplete: 'off', autocapitalize: 'off', spellcheck: 'false', enterkeyhint: 'done', maxlength: String(LETTERS_MOST),
  })) input.setAttribute(name, value);
  /** What the field held when it was taken up: what is set in it afterwards is asked about no second time. */
  let before = input.value;
  input.addEventListener('focus', () => { before = input.value; });
  input.addEventListener('input', () => {
    hands.onType?.();
    open(input, hands, input.value);
  });
  input.addEventListener('click', () => open(input, hands, input.value === before ? '' : input.value));
  input.addEventListener('keydown', (event) => {
    const hasList = shown.input === input;
    if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      event.preventDefault();
      if (hasList) mark(shown.marked + (event.key === 'ArrowDown' ? 1 : -1));
      else open(input, hands, input.value === before ? '' : input.value);
    } else if (event.key === 'Escape' && hasList) {
      // The window that the field may stand in stays open.
      event.preventDefault();
      event.stopPropagation();
      close();
    } else if (event.key === 'Enter') {
      event.preventDefault();
      event.stopImmediatePropagation();
      const offer = hasList ? shown.offers[shown.marked] : undefined;
      before = input.value;
      takeUp(hands, offer?.name ?? input.value);
    }
  });
  // Before whatever else goes by a changed field sets it back to what was taken.
  for (const end of ['change', 'blur']) {
    input.addEventListener(end, () => {
      if (shown.input === input) close();
      if (hands.isForm || input.value === before) return;
      before = input.value;
      takeUp(hands, before);
    });
  }
}

/**
 * A form with a field for a wood and a button that takes it.
 * @param {string} name the form's, and its field's
 * @param {Hands['asks']} asks
 * @param {(name: string, isSameStep: boolean) => void} act
 */
export function woodFormFor(name, asks, act) {
  const input = byId(`${name}-entry`, HTMLInputElement);
  /** @type {Hands} */
  const hands = {
    asks,
    isForm: true,
    take: (wood, isSameStep) => {
      input.value = '';
      act(wood, isSameStep);
    },
  };
  woodListFor(input, hands);
  byId(`${name}-form`, HTMLFormElement).addEventListener('submit', (event) => {
    event.preventDefault();
    takeUp(hands, input.value);
  });
}

/**
 * Takes what was typed in a field: the wood that is meant, or what is answered about it.
 * @param {Hands} hands
 * @param {string} text
 */
function takeUp(hands, text) {
  close();
  const name = [...text.normalize('NFC').trim()].slice(0, LETTERS_MOST).join('');
  if (hands.isForm && name === '') return;
  const meant = offersFor(name).find((offer) => offer.is_meant)?.name;
  if (meant !== undefined || name === '' || hands.asks === 'never') {
    hands.take(meant ?? name, false);
    return;
  }
  if (hands.asks === 'after') hands.take(name, false);
  askWhich(name, hands);
}

/**
 * @param {HTMLInputElement} input
 * @param {Hands} hands
 * @param {string} text
 */
function open(input, hands, text) {
  Object.assign(shown, { input, hands, offers: offersFor(text), marked: -1 });
  if (shown.offers.length === 0) {
    close();
    return;
  }
  const list = byId('wood-offers', HTMLElement);
  // A window lies over all that is not in it, and a screen reader goes by the page's parts.
  (input.closest('dialog, main') ?? document.body).append(list);
  list.replaceChildren(...shown.offers.map(makeLine));
  list.hidden = false;
  list.scrollTop = 0;
  input.setAttribute('aria-expanded', 'true');
  mark(shown.offers.findIndex((offer) => offer.is_meant));
  place();
}

/**
 * @param {WoodOffer} offer
 * @param {number} at
 */
function makeLine(offer, at) {
  const line = make('li', {}, ...lookOf(offer));
  line.id = `wood-offer-${at}`;
  line.setAttribute('role', 'option');
  return line;
}

/** @param {WoodOffer} offer */
function lookOf(offer) {
  const dot = make('span', { className: 'dot' });
  dot.style.backgroundColor = offer.color;
  return [dot, make('span', { text: offer.name }), make('span', { className: 'quiet', text: offer.note })];
}

/** @param {number} at */
function mark(at) {
  const { input, offers } = shown;
  shown.marked = Math.max(-1, Math.min(at, offers.length - 1));
  const lines = byId('wood-offers', HTMLElement).children;
  for (const [place, line] of [...lines].entries()) {
    line.setAttribute('aria-selected', String(place === shown.marked));
  }
  const line = lines[shown.marked];
  if (line) input?.setAttribute('aria-activedescendant', line.id);
  else input?.removeAttribute('aria-activedescendant');
  line?.scrollIntoView({ block: 'nearest' });
}

/** Puts the list under its field, where the system's keyboard leaves it room. */
function place() {
  const { input } = shown;
  const list = byId('wood-offers', HTMLElement);
  if (!input || list.hidden) return;
  const seen = visualViewport ? visualViewport.offsetTop + visualViewport.height : innerHeight;
  if (input.getBoundingClientRect().bottom + list.offsetHeight > seen) input.scrollIntoView({ block: 'start' });
  const [at, box] = [input.getBoundingClientRect(), list.offsetParent?.getBoundingClientRect()];
  list.style.left = `${at.left - (box?.left ?? 0) + (list.offsetParent?.scrollLeft ?? 0)}px`;
  list.style.top = `${at.bottom - (box?.top ?? 0) + (list.offsetParent?.scrollTop ?? 0)}px`;
  list.style.width = `${at.width}px`;
}

function close() {
  const { input } = shown;
  input?.setAttribute('aria-expanded', 'false');
  input?.removeAttribute('aria-activedescendant');
  Object.assign(shown, { input: null, hands: null, offers: [], marked: -1 });
  byId('wood-offers', HTMLElement).hidden = true;
}

/** Wires the list and the question, once. */
export function setUpWoodList() {
  const list = byId('wood-offers', HTMLElement);
  // The field keeps the focus while a line is tapped.
  list.addEventListener('pointerdown', (event) => event.preventDefault());
  list.addEventListener('click', (event) => {
    const line = event.target instanceof Element ? event.target.closest('li') : null;
    const { input, hands, offers } = shown;
    const offer = line ? offers[[...list.children].indexOf(line)] : undefined;
    if (!input || !hands || !offer) return;
    takeUp(hands, offer.name);
    // What is entered is entered: the system's keyboard goes.
    input.blur();
  });
  visualViewport?.addEventListener('resize', place);
  setUpQuestion();
}

/** The name that is asked about. @type {{ name: string, hands: Hands | null }} */
const question = { name: '', hands: null };

/** Long enough for the tap that left the field to land. */
const TAP_MILLISECONDS = 200;

/** Until then: asked twice, it opens once, and not again once it is answered. @type {ReturnType<typeof setTimeout> | undefined} */
let opening;

/**
 * @param {string} name
 * @param {Hands} hands
 */
function askWhich(name, hands) {
  Object.assign(question, { name, hands });
  const offers = offersFor(name);
  byId('wood-asked', HTMLElement).textContent = name;
  byId('wood-like', HTMLInputElement).value = '';
  byId('wood-like-says', HTMLElement).hidden = true;
  byId('wood-not-there', HTMLElement).hidden = offers.length > 0;
  byId('wood-may-be', HTMLElement).hidden = offers.length === 0;
  byId('wood-choices', HTMLElement).replaceChildren(...offers.map((offer) => {
    const button = makeButton('', () => answer(offer.name));
    button.append(...lookOf(offer));
    return button;
  }));
  clearTimeout(opening);
  opening = setTimeout(() => {
    const dialog = byId('wood-dialog', HTMLDialogElement);
    if (!dialog.open) dialog.showModal();
  }, TAP_MILLISECONDS);
}

/**
 * @param {string} name
 * @param {boolean} [isSameStep]
 */
function answer(name, isSameStep = question.hands?.asks === 'after') {
  clearTimeout(opening);
  byId('wood-dialog', HTMLDialogElement).close();
  question.hands?.take(name, isSameStep);
}

/** @param {string} like */
function answerOwn(like) {
  const { name, hands } = question;
  change({ kind: 'add_like', name, like }, hands?.asks === 'after');
  answer(name, true);
}

function setUpQuestion() {
  const like = byId('wood-like', HTMLInputElement);
  woodListFor(like, { asks: 'never', take: (name) => { like.value = name; } });
  onTap('wood-take-own', () => {
    const meant = offersFor(like.value).find((offer) => offer.is_meant);
    byId('wood-like-says', HTMLElement).hidden = Boolean(meant);
    if (meant) answerOwn(meant.name);
    else like.focus();
  });
  onTap('wood-unknown', () => answerOwn(''));
}
