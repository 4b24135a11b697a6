// The harness itself: a visit must fail when the page complains.

import assert from 'node:assert/strict';
import { test } from 'node:test';
import { axeClean, fitsTheScreen, visit } from './harness.mjs';

/** @param {() => unknown} misdeed runs inside the page */
function visitWith(misdeed) {
  return visit('desktop', async (page) => {
    await page.evaluate(misdeed);
  });
}

test('a logged warning fails a visit', () => assert.rejects(
  visitWith(() => console.warn('planted')), /planted/,
));

test('an uncaught error fails a visit', () => assert.rejects(
  visitWith(() => { setTimeout(() => { throw new Error('planted'); }); }), /planted/,
));

test('a request to another place fails a visit', () => assert.rejects(
  visitWith(() => fetch('http://127.0.0.1:9/').catch(() => undefined)),
  /Content Security Policy|another place/,
));

test('an inline script is refused by the policy', () => assert.rejects(
  visitWith(() => {
    const script = document.createElement('script');
    script.textContent = 'document.title = "planted"';
    document.body.append(script);
  }),
  /Content Security Policy/,
));

test('a button without a name fails the check of accessibility', () => assert.rejects(
  visit('desktop', async (page) => {
    await page.evaluate(() => document.body.append(document.createElement('button')));
    await axeClean(page);
  }),
  /button-name/,
));

test('a page that is too wide fails its check', () => assert.rejects(
  visit('phone', async (page) => {
    await page.evaluate(() => {
      const wide = document.createElement('div');
      wide.style.width = '3000px';
      wide.textContent = 'wide';
      document.body.append(wide);
    });
    await fitsTheScreen(page);
  }),
  /px wide/,
));
