/** The list of designs on this device: open, copy, remove, go back, bring in. */

import { ask } from './door.js';
import { pickFile, safeFileName, saveFile } from './files.js';
import { askToStay } from './keep.js';
import { notice } from './notices.js';
import { byId, make, makeButton, setLines } from './page.js';
import { FILE_ENDING, saveDesignFile } from './share.js';
import { word } from './words.js';
import { design, keep, openBeside, openLink, openRecord, readRecord, record, save, show, startingDesign, take } from './work.js';

/** @typedef {import('./ringwright.js').Message} Message */

export function setUpDesigns() {
  const dialog = byId('designs-dialog', HTMLDialogElement);
  byId('designs-button', HTMLButtonElement).addEventListener('click', () => {
    say('');
    dialog.showModal();
    showDesigns();
    void showStay();
  });
  byId('new-design', HTMLButtonElement).addEventListener('click', () => {
    openBeside({ ...startingDesign(), unit: design().unit });
    dialog.close();
  });
  byId('copy-design', HTMLButtonElement).addEventListener('click', () => {
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
    openPastedLink();
  });
  for (const button of document.querySelectorAll('[data-example]')) {
    if (!(button instanceof HTMLElement)) continue;
    button.addEventListener('click', () => {
      openExample(button.dataset.example ?? '');
      dialog.close();
    });
  }
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

function openPastedLink() {
  const field = byId('link-entry', HTMLInputElement);
  const from = field.value.indexOf('#');
  const hash = from < 0 ? `#${field.value.trim()}` : field.value.slice(from).trim();
  const messages = openLink(hash);
  if (messages.length > 0) {
    say(textOf(messages));
    return;
  }
  field.value = '';
  byId('designs-dialog', HTMLDialogElement).close();
}

/** @param {string} example */
function openExample(example) {
  const messages = openLink(`#${ask((library) => library.example_link(example))}`);
  record().place = 'vessel';
  save();
  show();
  tellMessages(messages);
}

async function openFile() {
  const picked = await pickFile(`${FILE_ENDING},.json,application/json`);
  if (!picked) return;
  const opened = readText(picked.text ?? '');
  if (!opened.design) {
    const why = opened.messages.map((each) => `${each.reason} ${each.remedy}`).join(' ');
    say(`${word('designs.file_not_read')} ${picked.name}. ${why}`);
    return;
  }
  openBeside(opened.design);
  if (opened.messages.length > 0) tellMessages(opened.messages);
  else notice('beside', word('designs.beside'), 'done');
  byId('designs-dialog', HTMLDialogElement).close();
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
  if (!byId('designs-dialog', HTMLDialogElement).open) return;
  showList();
  showEarlier();
  showAside();
  showKeptOutside();
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

function showList() {
  const { id } = record();
  const open = {
    key: `open ${id}`,
    name: design().name,
    about: when(record().savedAt),
    makeEnd: () => [make('span', { className: 'quiet', text: word('designs.this') })],
  };
  const others = keep.list().filter((each) => each.id !== id).map((each) => ({
    key: `kept ${each.id}`,
    name: each.name,
    about: when(each.savedAt),
    makeEnd: () => [
      makeButton(word('designs.open'), () => openKept(each.id)),
      makeButton(word('designs.remove'), () => remove(each.id)),
    ],
  }));
  setRows(byId('design-list', HTMLElement), [open, ...others, ...removedRows()]);
}

/** @param {string} id */
function openKept(id) {
  const kept = readRecord(id);
  if (kept) {
    openRecord(kept);
    byId('designs-dialog', HTMLDialogElement).close();
  } else showDesigns();
}

/** @param {string} id */
function remove(id) {
  keep.remove(id);
  showDesigns();
  say(word('designs.removed'));
}

/** What was removed stays in the list for a while, so that a slip is mended right there. */
function removedRows() {
  return keep.removed().map((each) => ({
    key: `removed ${each.id}`,
    name: each.name,
    about: `${word('designs.removed')} ${when(each.removedAt)}`,
    isRemoved: true,
    makeEnd: () => [makeButton(word('designs.put_back'), () => {
      keep.putBack(each.id);
      showDesigns();
      say('');
    })],
  }));
}

function showEarlier() {
  const earlier = keep.earlier(record().id);
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
  const opened = ask((library) => library.open_text(JSON.stringify(earlier)));
  tellMessages(opened.messages);
  if (opened.design) take(opened.design);
  byId('designs-dialog', HTMLDialogElement).close();
}

function showAside() {
  const troubles = keep.troubles();
  byId('aside', HTMLElement).hidden = troubles.length === 0;
  setRows(byId('aside-list', HTMLElement), troubles.map((each) => ({
    key: each.key,
    name: each.was,
    about: each.foundAt === null ? '' : when(each.foundAt),
    makeEnd: () => [makeButton(word('designs.save_aside'), () => {
      void saveFile(safeFileName(word('app.name'), '.txt'), 'text/plain', each.text ?? '');
    })],
  })));
}

function showKeptOutside() {
  const summary = keep.summary(record().id);
  const at = summary?.keptOutsideAt ?? null;
  const text = at === null
    ? word('designs.outside_never')
    : `${word(summary?.changedSince ? 'designs.outside_changed' : 'designs.outside_same')} ${when(at)}.`;
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
