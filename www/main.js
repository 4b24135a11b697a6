/** Starts the page and connects its places. */

import { setUpBench, showBench } from './bench.js';
import { setUpBoards, showBoards } from './boards.js';
import { mayLeave, openExample, setUpDesigns, showDesigns, tellMessages, tellTroubles } from './designs.js';
import { Stumble, openDoor } from './door.js';
import { onUnitTap } from './fields.js';
import { beginGlued } from './glued.js';
import { setUpInlay, showInlay } from './inlay.js';
import { chooseKeypad, isOwnKeypad, wireKeypad } from './keypad.js';
import { setUpMaking, showMaking } from './making.js';
import { notice, noticeOnce } from './notices.js';
import { startOffline, tellCameUp } from './offline.js';
import { byId, wireDialogs } from './page.js';
import { showPart } from './panel.js';
import { setUpPaper, showPaper } from './paper.js';
import { setUp, showRing } from './ring.js';
import { say } from './say.js';
import { setUpShare } from './share.js';
import { setUpShelf, showShelf } from './shelf.js';
import { setUpShop, showShop } from './shop.js';
import { setUpStepPhotos } from './step_photos.js';
import { watchOtherTabs } from './tabs.js';
import { setUpVariations, showVariations } from './variations.js';
import { beginShape, setUpVessel, showVessel } from './vessel.js';
import { beginBoards, drawWays, isFresh, setUpWays } from './ways.js';
import { setUpWood, showWood } from './wood.js';
import { setUpWoodList } from './wood_list.js';
import { word } from './words.js';
import { canRedo, canUndo, design, goToPlace, isKept, keep, line, onChange, onKeptState, openFirst, openLink, openRecord, readRecord, record, redo, settle, show, stepsSaid, tellStumble, typed, undo, saveNow, writeAddressNow } from './work.js';

/** @type {readonly string[]} */
const PLACES = ['ring', 'vessel', 'wood', 'inlay', 'bench', 'paper'];

function showFrame() {
  byId('undo', HTMLButtonElement).disabled = !canUndo();
  byId('redo', HTMLButtonElement).disabled = !canRedo();
  nameStepsSoon();
  byId('unit-button', HTMLButtonElement).textContent = word(`choice.${design().unit}`);
  const open = PLACES.includes(record().place) ? record().place : 'ring';
  for (const place of PLACES) byId(place, HTMLElement).hidden = place !== open;
  document.documentElement.dataset.at = open;
  for (const button of document.querySelectorAll('[data-place]')) {
    if (!(button instanceof HTMLElement)) continue;
    if (button.dataset.place === open) button.setAttribute('aria-current', 'page');
    else button.removeAttribute('aria-current');
  }
}

/** @type {ReturnType<typeof setTimeout> | undefined} */
let naming;

/** Not at every move of a pulled handle. */
const NAME_MILLISECONDS = 150;

function nameStepsSoon() {
  clearTimeout(naming);
  naming = setTimeout(() => {
    const said = stepsSaid();
    for (const way of /** @type {const} */ (['undo', 'redo'])) {
      const button = byId(way, HTMLButtonElement);
      const text = said[way] ? `${word(way)}: ${said[way]}` : word(way);
      button.setAttribute('aria-label', text);
      button.title = text;
    }
  }, NAME_MILLISECONDS);
}

function undoAndSay() {
  const said = stepsSaid().undo;
  if (undo()) say(said ? `${word('did.undone')}: ${said}` : word('did.undone'));
}

function redoAndSay() {
  const said = stepsSaid().redo;
  if (redo()) say(said ? `${word('did.redone')}: ${said}` : word('did.redone'));
}

/** For which design and place it was decided whether the ways in are shown: they do not go under a hand that types. */
let waysOf = '';

function showWays() {
  const at = `${record().id} ${record().place}`;
  if (at !== waysOf) byId('ways', HTMLElement).hidden = !isFresh();
  waysOf = at;
  drawWays();
}

function setUpFrame() {
  byId('undo', HTMLButtonElement).addEventListener('click', undoAndSay);
  byId('redo', HTMLButtonElement).addEventListener('click', redoAndSay);
  document.addEventListener('keydown', stepByKey);
  // A link that only moves the focus must not take the design out of the address bar.
  document.querySelector('.skip')?.addEventListener('click', (event) => {
    event.preventDefault();
    const place = document.querySelector('main:not([hidden])');
    const saw = place?.querySelector('#saw') ?? place;
    if (saw instanceof HTMLElement) saw.focus();
  });
  for (const button of document.querySelectorAll('[data-place]')) {
    button.addEventListener('click', () => goTo(button instanceof HTMLElement ? button.dataset.place : ''));
  }
  for (const button of document.querySelectorAll('[data-goto]')) {
    const { goto, part } = button instanceof HTMLElement ? button.dataset : {};
    button.addEventListener('click', () => {
      goTo(goto);
      if (part) void showPart(part);
    });
  }
}

/** @param {string | undefined} place */
function goTo(place) {
  goToPlace(place || 'ring');
  scrollTo(0, 0);
}

/** @param {KeyboardEvent} event */
function stepByKey(event) {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase();
  if (key !== 'z' && key !== 'y') return;
  // In a field that is none of the design's, the browser's own undo holds.
  const { target } = event;
  if (target instanceof HTMLInputElement && target.type !== 'checkbox' && !target.dataset.key) return;
  event.preventDefault();
  if (key === 'y' || event.shiftKey) redoAndSay();
  else undoAndSay();
}

function setUpUnits() {
  const dialog = byId('unit-dialog', HTMLDialogElement);
  const openUnits = () => {
    byId('own-keypad', HTMLInputElement).checked = isOwnKeypad();
    for (const button of dialog.querySelectorAll('button[value]')) {
      const isChosen = button instanceof HTMLButtonElement && button.value === design().unit;
      button.setAttribute('aria-pressed', String(isChosen));
    }
    dialog.showModal();
  };
  onUnitTap(openUnits);
  byId('unit-button', HTMLButtonElement).addEventListener('click', openUnits);
  for (const button of dialog.querySelectorAll('button[value]')) {
    button.addEventListener('click', () => {
      settle();
      if (button instanceof HTMLButtonElement) typed('unit', button.value);
      settle();
      dialog.close();
      // The unit that was tapped may have been set anew: the focus must not fall to the page's start.
      const at = document.activeElement;
      if (at === document.body || dialog.contains(at)) byId('unit-button', HTMLButtonElement).focus();
    });
  }
  byId('own-keypad', HTMLInputElement).addEventListener('change', () => {
    chooseKeypad(byId('own-keypad', HTMLInputElement).checked);
  });
  return openUnits;
}

function setUpKeeping() {
  if (keep.status().kind === 'memory') noticeOnce('keep', word('keep.memory'));
  addEventListener('hashchange', () => void openHash());
  // The last moments in which a page that is put away still gets to write.
  addEventListener('pagehide', saveNow);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'hidden') saveNow();
  });
  watchOtherTabs(line, keep, ({ kind, id }) => {
    if (kind !== 'saved' || id !== record().id) return;
    notice('other-tab', word('keep.other_tab'), {
      label: word('keep.load_other'),
      act: () => void loadOther(id),
    });
  });
  // What the library stumbled over outside a change, in answer to a tap: said, and what is shown stays.
  addEventListener('error', ({ error }) => {
    if (error instanceof Stumble) tellStumble();
  });
  addEventListener('unhandledrejection', ({ reason }) => {
    if (reason instanceof Stumble) tellStumble();
  });
}

async function openHash() {
  const hash = location.hash;
  if (hash.length > 1 && await mayLeave()) tellMessages(await openLink(hash));
  // What could not be opened gives the address bar back to the open design.
  writeAddressNow();
}

/** @param {string} id */
async function loadOther(id) {
  const read = await readRecord(id);
  if (!read || id !== record().id) return;
  openRecord(read.kept);
  tellMessages(read.messages);
}

function showKeptState() {
  const state = isKept();
  const mark = byId('kept-state', HTMLElement);
  mark.dataset.state = state;
  mark.textContent = word(`kept.${state}`);
}

function setUpOffline() {
  startOffline({
    onReady: () => {
      byId('offline-says', HTMLElement).hidden = false;
      document.documentElement.dataset.offline = 'ready';
    },
    onNewVersion: (apply) => notice('new-version', word('offline.new'), {
      label: word('offline.apply'),
      act: () => {
        saveNow();
        apply();
      },
    }),
  });
}

async function start() {
  await openDoor();
  // Before anything that watches the page and shows the design.
  const messages = await openFirst();
  wireDialogs();
  wireKeypad();
  setUpFrame();
  const openUnits = setUpUnits();
  setUp(openUnits);
  setUpVessel(openUnits);
  setUpWood(openUnits);
  setUpWoodList();
  setUpBoards();
  setUpMaking();
  setUpInlay(openUnits);
  setUpBench(openUnits);
  setUpShare();
  setUpShop();
  setUpStepPhotos();
  setUpShelf();
  setUpDesigns();
  setUpPaper();
  byId('counts', HTMLDetailsElement).addEventListener('toggle', showRing);
  byId('all-rings', HTMLDetailsElement).addEventListener('toggle', showVessel);
  setUpVariations(mayLeave);
  setUpWays({ shape: beginShape, glued: beginGlued, boards: beginBoards, example: openExample }, mayLeave);
  onChange(showFrame);
  onChange(showWays);
  onChange(showRing);
  onChange(showVessel);
  onChange(showVariations);
  onChange(showWood);
  onChange(showBoards);
  onChange(showMaking);
  onChange(showInlay);
  onChange(showBench);
  onChange(showPaper);
  onChange(showDesigns);
  onChange(showShop);
  onChange(showShelf);
  onKeptState(showKeptState);
  onKeptState(showDesigns);
  show();
  showKeptState();
  tellMessages(messages);
  setUpKeeping();
  await tellTroubles();
  setUpOffline();
  document.documentElement.dataset.ready = 'yes';
  byId('no-start', HTMLElement).hidden = true;
  tellCameUp();
}

// What fails in it is said by `standby.js`, which needs nothing of this.
void start();
