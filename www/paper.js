/** The Paper place: the sheet as a picture, and as a file. */

import { ask } from './door.js';
import { safeFileName, saveFile } from './files.js';
import { notice } from './notices.js';
import { byId } from './page.js';
import { word } from './words.js';
import { design, linkAddress, record } from './work.js';

/** @type {string | null} */
let previewAddress = null;

export function setUpPaper() {
  byId('save-pdf', HTMLButtonElement).addEventListener('click', () => {
    const bytes = ask((library) => library.sheet_pdf(design(), linkAddress(), today()));
    if (bytes.length > 0) void save('.pdf', 'application/pdf', bytes);
  });
  byId('save-svg', HTMLButtonElement).addEventListener('click', () => {
    const text = ask((library) => library.sheet_svg(design(), linkAddress(), today()));
    if (text) void save('.svg', 'image/svg+xml', text);
  });
}

/**
 * @param {string} ending
 * @param {string} mediaType
 * @param {string | Uint8Array} content
 */
async function save(ending, mediaType, content) {
  const title = design().name || word('unnamed');
  const outcome = await saveFile(safeFileName(title, ending), mediaType, content);
  if (outcome === 'failed') notice('paper', word('paper.failed'));
  else if (outcome !== 'cancelled') notice('paper', word('paper.saved'), 'done');
}

/** Today where the turner is, as `2030-01-31`. */
function today() {
  // Swedish writes dates the ISO way, in local time.
  return new Date().toLocaleDateString('sv-SE');
}

/** Shows the sheet's picture, while the place is open. */
export function showPaper() {
  if (record().place !== 'paper') return;
  const text = ask((library) => library.sheet_svg(design(), linkAddress(), today()));
  const preview = byId('sheet-preview', HTMLImageElement);
  byId('no-sheet', HTMLElement).hidden = text !== '';
  preview.hidden = text === '';
  byId('save-pdf', HTMLButtonElement).disabled = text === '';
  byId('save-svg', HTMLButtonElement).disabled = text === '';
  if (!text) return;
  const old = previewAddress;
  previewAddress = URL.createObjectURL(new Blob([text], { type: 'image/svg+xml' }));
  preview.src = previewAddress;
  if (old) URL.revokeObjectURL(old);
}
