/**
 * The turner's own shop: what new designs begin with, in what the open design is of another one, and a
 * file of it for another device.
 */

import { ask } from './door.js';
import { setFigures } from './figures.js';
import { pickFile, safeFileName, saveAndSay } from './files.js';
import { byId, make, makeButton, onTap } from './page.js';
import { say } from './say.js';
import { word } from './words.js';
import { design, isGuest, keep, startingDesign, take } from './work.js';

/** @type {{ box: HTMLElement, says: HTMLElement, takeIt: HTMLElement }[]} */
const lines = [];

/** What a shop is as long as none was kept. @type {unknown} */
let usual = null;

/** A line wherever the shop's fields stand. */
export function setUpShop() {
  for (const box of document.querySelectorAll('[data-shop]')) {
    if (!(box instanceof HTMLElement)) continue;
    const says = make('p', { className: 'quiet' });
    const keepIt = makeButton(word('shop.keep'), () => void keepShop());
    const takeIt = makeButton(word('shop.take'), () => {
      take(ask((library) => library.with_shop(design(), ownOrUsual())));
    });
    box.append(says, make('p', { className: 'actions' }, keepIt, takeIt));
    lines.push({ box, says, takeIt });
    box.closest('details')?.addEventListener('toggle', showShop);
  }
  byId('own-shop', HTMLDetailsElement).addEventListener('toggle', showOwn);
  onTap('own-shop-save', () => void saveAndSay('shop', safeFileName(word('shop.title'), '.json'),
    'application/json', JSON.stringify({ [IN_FILE]: ownOrUsual() }, null, 1)));
  onTap('own-shop-open', () => void openShop());
  // Another tab may have kept one.
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') void keep.readShop().then(showShop);
  });
}

function ownOrUsual() {
  if (keep.ownShop !== null) return keep.ownShop;
  usual ??= ask((library) => library.shop_of(startingDesign()));
  return usual;
}

async function keepShop() {
  say(await kept(ask((library) => library.shop_of(design()))));
}

/** Keeps a shop, and says whether it could. @param {object} shop */
async function kept(shop) {
  const isDown = await keep.keepShop(shop);
  showShop();
  showOwn();
  return word(isDown ? 'shop.kept' : 'shop.no_room');
}

/** What a file's shop is called in it. */
const IN_FILE = 'ringwright_shop';

/** A shop of another device; what of it no field takes is as usual. */
async function openShop() {
  const picked = await pickFile('.json,application/json');
  if (!picked) return;
  const note = byId('own-shop-note', HTMLElement);
  const shop = shopIn(picked.text);
  if (shop === null) {
    note.textContent = word('shop.no_file');
    return;
  }
  const read = ask((library) => library.shop_of(library.with_shop(startingDesign(), shop)));
  note.textContent = await kept(read);
}

/** @param {string | null} text @returns {object | null} */
function shopIn(text) {
  try {
    const shop = JSON.parse(text ?? '')?.[IN_FILE];
    return typeof shop === 'object' && !Array.isArray(shop) ? shop : null;
  } catch {
    return null;
  }
}

/** All that is kept, where it can be seen. */
function showOwn() {
  if (!byId('own-shop', HTMLDetailsElement).open) return;
  const isKept = keep.ownShop !== null;
  byId('own-shop-says', HTMLElement).textContent = word(isKept ? 'shop.begins' : 'shop.none_kept');
  setFigures(byId('own-shop-list', HTMLElement), isKept ? ask((library) => library.shop_rows(keep.ownShop)) : []);
  byId('own-shop-save', HTMLElement).hidden = !isKept;
}

/** Tells what is other than in the turner's shop, where that can be seen. */
export function showShop() {
  const seen = lines.filter(({ box }) => box.closest('details')?.open ?? isGuest());
  if (seen.length === 0) return;
  const told = ask((library) => library.shop_says(design(), ownOrUsual()));
  for (const { box, says, takeIt } of seen) {
    takeIt.hidden = keep.ownShop === null;
    box.hidden = told === '';
    says.textContent = keep.ownShop === null ? word('shop.first') : told;
  }
  byId('guest-shop', HTMLElement).hidden = told === '' || keep.ownShop === null;
}
