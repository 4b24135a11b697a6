/** Handing the design on: as a link, as a code, as a file. */

import { ask } from './door.js';
import { copyText, safeFileName, saveFile, shareLink } from './files.js';
import { byId, setPicture } from './page.js';
import { showFileBoxes, withPhotos } from './step_photos.js';
import { word } from './words.js';
import { design, done, isFromFile, keep, linkAddress, record, save, show, titleNow } from './work.js';

/** What files of ours end in. */
export const FILE_ENDING = '.ringwright.json';

export function setUpShare() {
  const dialog = byId('share-dialog', HTMLDialogElement);
  byId('share-button', HTMLButtonElement).addEventListener('click', () => {
    showShare();
    dialog.showModal();
  });
  byId('send-link', HTMLButtonElement).addEventListener('click', () => void send());
  byId('copy-link', HTMLButtonElement).addEventListener('click', () => void copy());
  byId('save-file', HTMLButtonElement).addEventListener('click', () => {
    void saveDesignFile().then(say);
  });
}

function showShare() {
  const link = linkAddress();
  byId('link-text', HTMLInputElement).value = link;
  const code = ask((library) => library.link_code(link, 300));
  const isReachable = !isFromFile();
  byId('qr-words', HTMLElement).hidden = !isReachable || !code;
  byId('qr-far', HTMLElement).hidden = isReachable;
  const box = byId('qr', HTMLElement);
  box.hidden = !isReachable || !code;
  if (code) setPicture(box, code);
  showFileBoxes();
  say('');
}

/** @param {string} text */
function say(text) {
  byId('share-says', HTMLElement).textContent = text;
}

async function send() {
  const title = titleNow();
  const outcome = await shareLink({ title, url: linkAddress() });
  if (outcome === 'cancelled') return;
  if (outcome !== 'failed') wentOutside();
  say(word(`share.${outcome}`));
}

async function copy() {
  const isCopied = await copyText(linkAddress());
  if (isCopied) wentOutside();
  say(word(isCopied ? 'share.copied' : 'share.failed'));
}

/** Saves the design as a file, and says what came of it. */
export async function saveDesignFile() {
  const text = await withPhotos(ask((library) => library.file_text(design(), done())));
  const name = safeFileName(titleNow(), FILE_ENDING);
  const outcome = await saveFile(name, 'application/json', text);
  if (outcome === 'cancelled') return '';
  if (outcome === 'failed') return word('share.file_failed');
  wentOutside();
  return word('share.file_saved');
}

function wentOutside() {
  keep.noteOutside(record());
  void save();
  show();
}
