/** The list of designs on this device: open, copy, remove, go back, bring in. */

import { ask } from './door.js';
import { FILE_BYTES_MOST, PHOTO_FILE_BYTES_MOST, pickFile, safeFileName, saveFile } from './files.js';
import { notice } from './notices.js';
import { byId, make, makeButton, setLines } from './page.js';
import { changedSinceKeptOutside, isPlainObject, nameOf, parsed } from './record.js';
import { FILE_ENDING, saveDesignFile } from './share.js';
import { apartFromPhotos, keepPhotosOf, showFileBoxes } from './step_photos.js';
import { askToStay } from './tabs.js';
import { word } from './words.js';
import { design, goToPlace, isKept, keep, newDesign, openBeside, openLink, openRecord, readRecord, record, save, take } from './work.js';

/** @typedef {import('./ringwright.js').Message} Message */

export function setUpDesigns() {
  const dialog = byId('designs-dialog', HTMLDialogElement);
  byId('designs-button', HTMLButtonElement).addEventListener('click', () => {
    say('');
    dialog.showModal();
    showDesigns();
    void showStay();
  });
  whenMayLeave(byId('new-design', HTMLButtonElement), () => {
    openBeside(newDesign());
    dialog.close();
  });
  whenMayLeave(byId('copy-design', HTMLButtonElement), () => {
    openBeside(structuredClone(design()));
    showDesigns();
  });
  byId('open-file', HTMLButtonElement).addEventListener('click', () => void openFile());
  byId('save-file-too', HTMLButtonElement).addEventListener('click', () => {
    void saveDesignFile().then((text) => {
      say(text);
      showDesigns();
    });
  });
  byId('link-form', HTMLFormElement).addEventListener('submit', (event) => {
    event.preventDefault();
    void openPastedLink();
  });
  setUpLeave();
}

/** @param {HTMLElement} button @param {() => void} act */
function whenMayLeave(button, act) {
  button.addEventListener('click', async () => {
    if (await mayLeave()) act();
  });
}

function setUpLeave() {
  const dialog = byId('leave-dialog', HTMLDialogElement);
  byId('leave-go', HTMLButtonElement).addEventListener('click', () => dialog.close('go'));
  byId('leave-file', HTMLButtonElement).addEventListener('click', () => {
    void saveDesignFile().then((text) => {
      byId('leave-says', HTMLElement).textContent = text;
    });
  });
}

/** Whether the open design can be left: asked where its last changes have found no room on the device. */
export async function mayLeave() {
  if (isKept() === 'keeping' || isKept() === 'not') await save();
  // What is in memory only stays there while the page is open.
  if (isKept() !== 'not' || keep.status().kind === 'memory') return true;
  const dialog = byId('leave-dialog', HTMLDialogElement);
  byId('leave-says', HTMLElement).textContent = '';
  dialog.returnValue = '';
  dialog.showModal();
  await new Promise((resolve) => dialog.addEventListener('close', resolve, { once: true }));
  return dialog.returnValue === 'go';
}

/** @param {string} text */
function say(text) {
  byId('designs-say', HTMLElement).textContent = text;
}

/** @param {Message[]} messages */
export function tellMessages(messages) {
  if (messages.length === 0) return;
  notice('opened', textOf(messages));
}

/** @param {Message[]} messages */
function textOf(messages) {
  const isReset = messages.some((each) => each.field !== 'design');
  const texts = messages.map((each) => `${each.reason} ${each.remedy}`);
  return (isReset ? [word('designs.reset_fields'), ...texts] : texts).join(' ');
}

async function openPastedLink() {
  if (!await mayLeave()) return;
  const field = byId('link-entry', HTMLInputElement);
  const from = field.value.indexOf('#');
  const hash = from < 0 ? `#${field.value.trim()}` : field.value.slice(from).trim();
  const messages = await openLink(hash);
  if (messages.length > 0) {
    say(textOf(messages));
    return;
  }
  field.value = '';
  byId('designs-dialog', HTMLDialogElement).close();
}

/** @param {string} example */
export async function openExample(example) {
  const messages = await openLink(`#${ask((library) => library.example_link(example))}`, false);
  goToPlace('vessel');
  tellMessages(messages);
}

async function openFile() {
  const picked = await pickFile(`${FILE_ENDING},.json,application/json`, PHOTO_FILE_BYTES_MOST);
  if (!picked || !await mayLeave()) return;
  const { text, photos } = apartFromPhotos(picked.text ?? '');
  if (picked.why === 'too large' || text.length > FILE_BYTES_MOST) {
    say(`${word('designs.file_not_read')} ${picked.name}. ${word('designs.file_too_large')}`);
    return;
  }
  const rescued = rescuedDesigns(text);
  const opened = (rescued.length > 0 ? rescued : [text]).map(readText);
  const fresh = opened.flatMap((each) => each.design ? [{ design: each.design, done: each.done }] : []);
  const messages = opened.flatMap((each) => each.messages);
  if (fresh.length === 0) {
    const why = messages.map((each) => `${each.reason} ${each.remedy}`).join(' ');
    say(`${word('designs.file_not_read')} ${picked.name}. ${why}`);
    return;
  }
  for (const each of fresh) {
    await keepPhotosOf(photos, each.done);
    openBeside(each.design, each.done);
  }
  if (messages.length > 0) tellMessages(messages);
  else notice('beside', word('designs.beside'), 'done');
  byId('designs-dialog', HTMLDialogElement).close();
}

/**
 * The designs in a file of everything that was kept, which a page that could not start hands out.
 * @param {string} text
 */
function rescuedDesigns(text) {
  const value = parsed(text);
  const entries = isPlainObject(value) && isPlainObject(value.ringwright_kept) ? value.ringwright_kept : {};
  return Object.entries(entries).flatMap(([key, each]) => {
    const kept = key.startsWith('design/') && typeof each === 'string' ? parsed(each) : null;
    if (!isPlainObject(kept) || !isPlainObject(kept.design) || kept.removed) return [];
    return [JSON.stringify({ ...kept.design, done: { ticks: kept.ticks, log: kept.log } })];
  });
}

/** @param {string} text */
function readText(text) {
  try {
    return ask((library) => library.open_text(text));
  } catch (cause) {
    // Made to trip the library, so no design: answered as an empty file is.
    console.error(cause);
    return ask((library) => library.open_text(''));
  }
}

/** Shows the design's name at the top, and the list while it is open. */
export function showDesigns() {
  const name = design().name || word('unnamed');
  byId('design-name', HTMLElement).textContent = name;
  document.title = `${name} · ${word('app.name')}`;
  if (byId('designs-dialog', HTMLDialogElement).open) void showLists();
}

/** Which showing of the lists is the latest: one that was overtaken shows nothing. */
let showing = 0;

async function showLists() {
  showing += 1;
  const mine = showing;
  showKeptOutside();
  showFileBoxes();
  const [others, removed, earlier] = await Promise.all([keep.list(), keep.removed(), keep.earlier(record().id)]);
  const [stranded, troubles] = await Promise.all([keep.stranded(), keep.troubles()]);
  if (mine !== showing) return;
  showList(others, removed);
  showEarlier(earlier);
  showAside(troubles, stranded);
}

/**
 * A line of a list of designs.
 * @typedef {object} Row
 * @property {string} key tells what its buttons do: a line of the same key is kept
 * @property {string} name
 * @property {string} about
 * @property {() => HTMLElement[]} makeEnd what stands at its end
 * @property {boolean} [isRemoved]
 */

/**
 * @param {HTMLElement} list
 * @param {Row[]} rows
 */
function setRows(list, rows) {
  /** @type {Map<string | undefined, HTMLElement>} */
  const old = new Map();
  for (const line of list.children) {
    if (line instanceof HTMLElement) old.set(line.dataset.key, line);
  }
  setLines(list, rows.map((row) => {
    const line = old.get(row.key) ?? makeLine(row);
    const [name, about] = line.querySelectorAll('.about > *');
    if (name) name.textContent = row.name || word('unnamed');
    if (about) about.textContent = row.about;
    return line;
  }));
}

/** @param {Row} row */
function makeLine(row) {
  const about = make('span', { className: 'about' },
    make(row.isRemoved ? 's' : 'strong'), make('span', { className: 'quiet' }));
  const line = make('li', {}, about, ...row.makeEnd());
  line.dataset.key = row.key;
  return line;
}

/** @typedef {Awaited<ReturnType<typeof keep.list>>} Kept */
/** @typedef {Awaited<ReturnType<typeof keep.removed>>} Removed */
/** @typedef {Awaited<ReturnType<typeof keep.earlier>>} Earlier */
/** @typedef {Awaited<ReturnType<typeof keep.troubles>>} Troubles */

/**
 * What tells a design from others of its name: its size and rings, and when it was kept.
 * @param {unknown} kept
 * @param {string} savedAt
 */
function aboutKept(kept, savedAt) {
  let size = '';
  try {
    size = ask((library) => library.design_in_short(kept));
  } catch (cause) {
    // Made to trip the library: its date tells it from others.
    console.error(cause);
  }
  return [size, when(savedAt)].filter(Boolean).join(' · ');
}

/** @param {Kept} kept @param {Removed} removed */
function showList(kept, removed) {
  const { id } = record();
  const open = {
    key: `open ${id}`,
    name: design().name,
    about: aboutKept(design(), record().savedAt),
    makeEnd: () => [make('span', { className: 'quiet', text: word('designs.this') })],
  };
  const others = kept.filter((each) => each.id !== id).map((each) => ({
    key: `kept ${each.id}`,
    name: each.name,
    about: aboutKept(each.design, each.savedAt),
    makeEnd: () => [
      makeButton(word('designs.open'), () => void openKept(each.id)),
      makeButton(word('designs.remove'), () => void remove(each.id)),
    ],
  }));
  setRows(byId('design-list', HTMLElement), [open, ...others, ...removedRows(removed)]);
}

/** @param {string} id */
async function openKept(id) {
  if (!await mayLeave()) return;
  const read = await readRecord(id);
  if (read) {
    openRecord(read.kept);
    if (read.messages.length > 0) void save();
    tellMessages(read.messages);
    byId('designs-dialog', HTMLDialogElement).close();
  } else showDesigns();
}

/** @param {string} id */
async function remove(id) {
  const result = await keep.remove(id);
  const isForGood = result.ok && result.lost.includes('removed');
  say(word(isForGood ? 'designs.removed_for_good' : 'designs.removed'));
  // There may be room now for what found none.
  if (isKept() === 'not') await save();
  showDesigns();
}

/**
 * What was removed stays in the list for a while, so that a slip is mended right there.
 * @param {Removed} removed
 */
function removedRows(removed) {
  return removed.map((each) => ({
    key: `removed ${each.id}`,
    name: each.name,
    about: `${word('designs.removed')} ${when(each.removedAt)}`,
    isRemoved: true,
    makeEnd: () => [makeButton(word('designs.put_back'), () => void putBack(each.id))],
  }));
}

/** @param {string} id */
async function putBack(id) {
  await keep.putBack(id);
  say('');
  showDesigns();
}

/** @param {Earlier} earlier */
function showEarlier(earlier) {
  byId('no-earlier', HTMLElement).hidden = earlier.length > 0;
  setRows(byId('earlier-list', HTMLElement), earlier.map((each) => ({
    key: `${record().id} ${each.savedAt}`,
    name: each.name,
    about: when(each.savedAt),
    makeEnd: () => [makeButton(word('designs.go_back'), () => goBack(each.design))],
  })));
}

/** @param {unknown} earlier */
function goBack(earlier) {
  const opened = readText(JSON.stringify(earlier));
  tellMessages(opened.messages);
  if (opened.design) take(opened.design);
  byId('designs-dialog', HTMLDialogElement).close();
}

/** @param {unknown} earlier */
async function openEarlier(earlier) {
  const opened = readText(JSON.stringify(earlier));
  if (!await mayLeave()) return;
  if (opened.design) openBeside(opened.design);
  tellMessages(opened.messages);
  byId('designs-dialog', HTMLDialogElement).close();
}

/**
 * What cannot be read, each as a file, and the earlier states of what is no more.
 * @param {Troubles} troubles
 * @param {Earlier} stranded
 */
function showAside(troubles, stranded) {
  byId('aside', HTMLElement).hidden = troubles.length + stranded.length === 0;
  const rows = troubles.map((each) => ({
    key: each.key,
    name: nameIn(each.text),
    about: each.why === 'later' ? word('designs.later') : `${word('designs.unreadable')} ${when(each.foundAt ?? '')}`,
    makeEnd: () => [makeButton(word('designs.save_aside'), () => {
      const name = [nameIn(each.text), each.was, each.foundAt?.slice(0, 10)].filter(Boolean).join(' ');
      void saveFile(safeFileName(name, '.txt'), 'text/plain', each.text);
    })],
  }));
  const states = stranded.map((each) => ({
    key: `stranded ${each.name} ${each.savedAt}`,
    name: each.name,
    about: `${word('designs.stranded')} ${when(each.savedAt)}`,
    makeEnd: () => [makeButton(word('designs.open_earlier'), () => void openEarlier(each.design))],
  }));
  setRows(byId('aside-list', HTMLElement), [...rows, ...states]);
}

/** The design's name, as far as it can still be made out. @param {string} text */
function nameIn(text) {
  const value = parsed(text);
  if (isPlainObject(value)) return nameOf(value.design);
  const found = parsed(/"name":("(?:[^"\\]|\\.)*")/u.exec(text)?.[1] ?? '');
  return typeof found === 'string' ? found : '';
}

/** Says at the start what could not be read, with the way to what is there of it. */
export async function tellTroubles() {
  const found = (await keep.troubles()).filter((each) => each.isNew);
  const offer = { label: word('designs.show_aside'), act: () => void openAside() };
  if (found.some((each) => each.why === 'unreadable')) notice('unreadable', word('keep.unreadable'), offer);
  if (found.some((each) => each.why === 'later')) notice('later', word('keep.later'), offer);
}

async function openAside() {
  byId('designs-dialog', HTMLDialogElement).showModal();
  showDesigns();
  await showLists();
  byId('aside', HTMLElement).scrollIntoView();
}

function showKeptOutside() {
  const at = record().keptOutsideAt;
  const text = at === null
    ? word('designs.outside_never')
    : `${word(changedSinceKeptOutside(record()) ? 'designs.outside_changed' : 'designs.outside_same')} ${when(at)}.`;
  byId('kept-outside', HTMLElement).textContent = text;
}

async function showStay() {
  const answer = await askToStay(navigator);
  byId('stay', HTMLElement).textContent = word(answer === 'granted' ? 'designs.stay.granted' : 'designs.stay.denied');
}

/** @param {string} isoTime */
function when(isoTime) {
  const time = new Date(isoTime);
  return Number.isNaN(time.getTime()) ? '' : time.toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
}
