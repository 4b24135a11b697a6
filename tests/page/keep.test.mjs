import assert from 'node:assert/strict';
import { describe, it } from 'node:test';
import { Keep } from '../../www/keep.js';
import { UNDO_STATES, changedSinceKeptOutside, fingerprint } from '../../www/record.js';
import { MemoryStorage, StorageStore, bestStore, localStorageOf } from '../../www/store.js';
import { askToStay, randomId, watchOtherTabs } from '../../www/tabs.js';
import { LastMoment, prepare } from '../../www/takeover.js';

const START = Date.UTC(2024, 0, 10, 8);
const MINUTE = 60_000;
const DAY = 24 * 60 * MINUTE;

/** A storage with room for so many characters, as the browsers count them. */
class SmallStorage extends MemoryStorage {
  constructor(room) {
    super();
    this.room = room;
  }

  used() {
    return [...this.entries].reduce((sum, [key, text]) => sum + key.length + text.length, 0);
  }

  setItem(key, text) {
    const before = this.entries.has(key) ? key.length + this.entries.get(key).length : 0;
    if (this.used() - before + key.length + text.length > this.room) {
      throw new DOMException('no room', 'QuotaExceededError');
    }
    super.setItem(key, text);
  }
}

/** A storage that refuses from some moment on. */
class RefusedStorage extends MemoryStorage {
  refused = false;

  setItem(key, text) {
    if (this.refused) {
      throw new DOMException('refused', 'SecurityError');
    }
    super.setItem(key, text);
  }
}

/** A device with a clock that only the test moves; each tab has its own view of the storage. */
function device(storage = new MemoryStorage()) {
  const clock = { time: START };
  let ids = 0;
  const tab = () => new Keep({
    store: Promise.resolve(new StorageStore(storage, 'disk')),
    now: () => clock.time,
    makeId: () => `id${(ids += 1)}`,
  });
  return { storage, clock, tab };
}

async function created(keep, design) {
  const record = keep.fresh(design);
  return { record, saved: await keep.save(record) };
}

async function copied(keep, record) {
  const copy = keep.copyOf(record);
  return { record: copy, saved: await keep.save(copy) };
}

function change(keep, record, design) {
  record.past.push(record.design);
  record.design = design;
  return keep.save(record);
}

async function reopened(keep, id) {
  const result = await keep.open(id);
  assert.equal(result.ok, true, `open says ${result.why}`);
  return result.record;
}

const KEPT = { ok: true, lost: [], anew: false };

describe('a design', () => {
  it('is there again in the next tab with all that belongs to it', async () => {
    const { tab } = device();
    const keep = tab();
    const { record, saved } = await created(keep, { name: 'Low bowl', rings: 5 });
    assert.deepEqual(saved, KEPT);
    record.drafts = { 'ring.outside': '3 1/' };
    record.place = 'vessel/3';
    record.past = [{ name: 'Low bowl', rings: 4 }];
    record.future = [{ name: 'Low bowl', rings: 6 }];
    record.somethingNew = 7;
    assert.deepEqual(await keep.save(record), KEPT);
    const { format, ...again } = await reopened(tab(), record.id);
    assert.deepEqual(again, record);
    assert.equal(format, 1);
  });

  it('is listed newest first under its present name', async () => {
    const { tab, clock } = device();
    const keep = tab();
    const first = (await created(keep, { name: 'A' })).record;
    clock.time += MINUTE;
    await created(keep, { name: 'B' });
    assert.deepEqual((await keep.list()).map(({ name }) => name), ['B', 'A']);
    clock.time += MINUTE;
    await change(keep, first, { name: 'A2' });
    const names = (await keep.list()).map(({ name, savedAt }) => [name, savedAt]);
    assert.deepEqual(names, [
      ['A2', '2024-01-10T08:02:00.000Z'],
      ['B', '2024-01-10T08:01:00.000Z'],
    ]);
    assert.equal(keep.status().lastSavedAt, '2024-01-10T08:02:00.000Z');
  });

  it('is remembered as the one opened last, unless it is gone', async () => {
    const { tab } = device();
    const keep = tab();
    const first = (await created(keep, { name: 'A' })).record;
    const second = (await created(keep, { name: 'B' })).record;
    assert.equal(await tab().lastOpen(), second.id);
    await keep.open(first.id);
    assert.equal(await tab().lastOpen(), first.id);
    await keep.remove(first.id);
    assert.equal(await tab().lastOpen(), null);
  });

  it('that is no object never replaces a good one', async () => {
    const { tab } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A' });
    for (const design of [undefined, null, 'text', [], { size: 1n }]) {
      assert.deepEqual(await keep.save({ ...record, design }), { ok: false, why: 'unwritable' });
    }
    assert.deepEqual((await reopened(keep, record.id)).design, { name: 'A' });
  });

  it('keeps the newest states of a long undo list', async () => {
    const { tab } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A', step: -1 });
    record.past = Array.from({ length: UNDO_STATES + 5 }, (_, step) => ({ name: 'A', step }));
    await keep.save(record);
    const { past } = await reopened(tab(), record.id);
    assert.equal(past.length, UNDO_STATES);
    assert.equal(past[0].step, 5);
    assert.equal(past.at(-1).step, UNDO_STATES + 4);
  });

  it('keeps fewer undo states when each is large', async () => {
    const { tab, storage } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A' });
    record.past = Array.from({ length: 50 }, (_, step) => ({ step, note: 'x'.repeat(20_000) }));
    assert.deepEqual(await keep.save(record), KEPT);
    assert.ok(storage.getItem(`ringwright/undo/${record.id}`).length < 201_000);
    assert.equal((await reopened(keep, record.id)).past.at(-1).step, 49);
  });

  it('takes no undo list that belongs to another state', async () => {
    const { tab, storage } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A' });
    await change(keep, record, { name: 'B' });
    const old = storage.getItem(`ringwright/undo/${record.id}`);
    await change(keep, record, { name: 'C' });
    storage.setItem(`ringwright/undo/${record.id}`, old);
    assert.deepEqual((await reopened(tab(), record.id)).past, []);
  });
});

describe('a copy', () => {
  it('is a design of its own', async () => {
    const { tab } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A' });
    keep.noteOutside(record);
    await keep.save(record);
    const copy = (await copied(keep, { ...record, design: { name: 'A, second' } })).record;
    assert.notEqual(copy.id, record.id);
    assert.equal(copy.keptOutsideAt, null);
    await change(keep, copy, { name: 'A, third' });
    assert.deepEqual((await reopened(keep, record.id)).design, { name: 'A' });
    assert.deepEqual((await reopened(keep, copy.id)).design, { name: 'A, third' });
  });

  it('of a removed design is there', async () => {
    const { tab } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A' });
    await keep.remove(record.id);
    const copy = (await copied(keep, record)).record;
    assert.deepEqual((await keep.list()).map(({ id }) => id), [copy.id]);
  });
});

describe('two tabs', () => {
  it('never overwrite each other', async () => {
    const { tab } = device();
    const [here, there] = [tab(), tab()];
    const mine = (await created(here, { name: 'A' })).record;
    const theirs = await reopened(there, mine.id);
    assert.deepEqual(await change(there, theirs, { name: 'theirs' }), KEPT);
    assert.deepEqual(await change(here, mine, { name: 'mine' }), { ok: false, why: 'newer' });
    assert.deepEqual((await reopened(tab(), mine.id)).design, { name: 'theirs' });

    const { record, saved } = await copied(here, mine);
    assert.deepEqual(saved, KEPT);
    assert.deepEqual((await reopened(tab(), record.id)).design, { name: 'mine' });
    assert.deepEqual(record.past, [{ name: 'A' }]);
    record.past.push({ name: 'only in the copy' });
    assert.equal(mine.past.length, 1);
  });

  it('notice each other even after the same number of saves', async () => {
    const { tab, storage } = device();
    const [here, there] = [tab(), tab()];
    const mine = (await created(here, { name: 'A' })).record;
    const theirs = await reopened(there, mine.id);
    const key = `ringwright/design/${mine.id}`;
    const before = storage.getItem(key);
    await change(here, mine, { name: 'mine' });
    // Both read before either wrote, as two processes can.
    storage.setItem(key, before);
    await change(there, theirs, { name: 'theirs' });
    assert.deepEqual(await change(here, mine, { name: 'mine again' }), { ok: false, why: 'newer' });
  });

  it('bring a design back that one removes while the other works on it', async () => {
    const { tab } = device();
    const [here, there] = [tab(), tab()];
    const mine = (await created(here, { name: 'A' })).record;
    await there.remove(mine.id);
    assert.deepEqual(await there.list(), []);
    assert.deepEqual(await change(here, mine, { name: 'still at it' }), KEPT);
    assert.deepEqual((await there.list()).map(({ name }) => name), ['still at it']);
    assert.deepEqual(await there.removed(), []);
  });

  it('tell each other', async () => {
    const { storage } = device();
    const line = new EventTarget();
    const store = Promise.resolve(new StorageStore(storage, 'disk'));
    const there = new Keep({ store, now: () => START, makeId: () => 'there', tell: (id) => said.push(id) });
    const said = [];
    const news = [];
    watchOtherTabs(line, there, ({ kind, id }) => news.push([kind, id]));
    const passOn = async () => {
      for (const data of said.splice(0)) line.dispatchEvent(Object.assign(new Event('message'), { data }));
      await new Promise((resolve) => setTimeout(resolve));
    };
    const { id } = (await created(there, { name: 'A' })).record;
    await passOn();
    await there.remove(id);
    await passOn();
    line.dispatchEvent(Object.assign(new Event('message'), { data: 3 }));
    assert.deepEqual(news, [['saved', id], ['removed', id]]);
    watchOtherTabs(null, there, () => assert.fail('there is no line'));
  });
});

describe('removing', () => {
  it('can be taken back with everything', async () => {
    const { tab } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A' });
    await change(keep, record, { name: 'B' });
    assert.deepEqual(await keep.remove(record.id), KEPT);
    assert.deepEqual(await keep.open(record.id), { ok: false, why: 'removed' });
    assert.equal(await keep.summary(record.id), null);
    assert.deepEqual(await keep.removed(), [{ id: record.id, name: 'B', removedAt: '2024-01-10T08:00:00.000Z' }]);
    assert.deepEqual(await keep.putBack(record.id), KEPT);
    assert.deepEqual(await keep.removed(), []);
    assert.deepEqual((await reopened(tab(), record.id)).past, [{ name: 'A' }]);
    assert.equal((await keep.earlier(record.id)).length, 1);
    assert.deepEqual(await keep.remove('nowhere'), { ok: false, why: 'missing' });
  });

  it('is final after 20 later ones, whatever the clock says', async () => {
    const { tab, storage, clock } = device();
    const keep = tab();
    const ids = [];
    for (let number = 0; number < 21; number += 1) ids.push((await created(keep, { name: `${number}` })).record.id);
    const first = await reopened(keep, ids[0]);
    await change(keep, first, { name: 'changed' });
    for (const id of ids.slice(0, 20)) {
      clock.time -= DAY;
      await keep.remove(id);
    }
    assert.equal((await keep.removed()).length, 20);
    assert.deepEqual(await keep.putBack(ids[0]), KEPT);
    await keep.remove(ids[0]);
    clock.time -= DAY;
    await keep.remove(ids[20]);
    assert.equal((await keep.removed()).length, 20);
    assert.deepEqual((await keep.removed()).slice(0, 2).map(({ id }) => id), [ids[20], ids[0]]);
    assert.deepEqual(await keep.putBack(ids[1]), { ok: false, why: 'missing' });
    assert.deepEqual([...storage.entries.keys()].filter((key) => key.includes(`/${ids[1]}`)), []);
  });
});

describe('earlier states', () => {
  it('are kept at each opening and at most every two minutes of work', async () => {
    const { tab, clock } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A', step: 0 });
    for (let step = 1; step <= 10; step += 1) {
      clock.time += MINUTE / 2;
      await change(keep, record, { name: 'A', step });
    }
    assert.deepEqual((await keep.earlier(record.id)).map(({ design }) => design.step), [8, 4, 0]);

    const again = tab();
    const opened = await reopened(again, record.id);
    await change(again, opened, { name: 'A', step: 11 });
    await change(again, opened, { name: 'A', step: 12 });
    assert.deepEqual((await again.earlier(record.id))[0], {
      savedAt: '2024-01-10T08:05:00.000Z',
      name: 'A',
      design: { name: 'A', step: 10 },
    });
    assert.equal((await again.earlier(record.id)).length, 4);
  });

  it('are not made by a save that changes no design', async () => {
    const { tab, clock } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A', size: 1 });
    clock.time += DAY;
    record.drafts = { size: '1' };
    record.design = { size: 1, name: 'A' };
    await keep.save(record);
    assert.deepEqual(await keep.earlier(record.id), []);
  });

  it('thin out: the newest dozen, then one a day, 24 in all', async () => {
    const { tab, clock } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A', step: 0 });
    let step = 0;
    for (let day = 0; day < 40; day += 1) {
      for (let time = 0; time < 5; time += 1) {
        step += 1;
        clock.time = START + day * DAY + time * 10 * MINUTE;
        await change(keep, record, { name: 'A', step });
      }
    }
    const earlier = await keep.earlier(record.id);
    assert.equal(earlier.length, 24);
    const steps = earlier.map(({ design }) => design.step);
    assert.deepEqual(steps.slice(0, 12), Array.from({ length: 12 }, (_, index) => 199 - index));
    const days = earlier.slice(12).map(({ savedAt }) => savedAt.slice(0, 10));
    assert.equal(new Set(days).size, 12);
    assert.deepEqual(days, [...days].sort().reverse());
  });

  it('stay in order when the clock starts again from nowhere', async () => {
    const { tab, clock } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A', step: 0 });
    clock.time += DAY;
    await change(keep, record, { name: 'A', step: 1 });
    clock.time = 0;
    await change(keep, record, { name: 'A', step: 2 });
    clock.time += DAY;
    await change(keep, record, { name: 'A', step: 3 });
    assert.deepEqual((await keep.earlier(record.id)).map(({ design }) => design.step), [2, 1, 0]);
  });
});

describe('kept outside', () => {
  it('knows what changed since', async () => {
    const { tab, clock } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A', rings: [1, 2] });
    assert.equal((await keep.list())[0].changedSince, true);
    keep.noteOutside(record);
    assert.deepEqual(await keep.save(record), KEPT);
    assert.deepEqual((await keep.list())[0], {
      id: record.id,
      name: 'A',
      design: { name: 'A', rings: [1, 2] },
      savedAt: '2024-01-10T08:00:00.000Z',
      keptOutsideAt: '2024-01-10T08:00:00.000Z',
      changedSince: false,
    });
    clock.time += MINUTE;
    await change(keep, record, { name: 'A', rings: [2, 1] });
    assert.equal((await keep.list())[0].changedSince, true);
    assert.equal(changedSinceKeptOutside(record), true);
    await change(keep, record, { rings: [1, 2], name: 'A' });
    assert.equal((await keep.list())[0].changedSince, false);
  });

  it('has a fingerprint that depends on content alone', async () => {
    assert.equal(fingerprint({ a: 1, b: { c: 2, d: 3 } }), fingerprint({ b: { d: 3, c: 2 }, a: 1 }));
    assert.notEqual(fingerprint({ a: [1, 2] }), fingerprint({ a: [2, 1] }));
    // FNV-1a of "{}" computed apart from this program.
    assert.equal(fingerprint({}), '2-5465b825');
  });
});

describe('what cannot be read', () => {
  for (const [what, text] of [
    ['cut short', '{"design":{"name":"A"'],
    ['of a wrong shape', '{"design":[1,2]}'],
    ['not even an object', '"text"'],
  ]) {
    it(`is put aside as it was: ${what}`, async () => {
      const { tab, storage } = device();
      storage.setItem('ringwright/design/old', text);
      const keep = tab();
      await prepare(keep, null);
      const good = (await created(keep, { name: 'good' })).record;
      assert.deepEqual((await keep.list()).map(({ id }) => id), [good.id]);
      const [trouble, ...others] = await keep.troubles();
      assert.deepEqual(others, []);
      const { key, ...told } = trouble;
      assert.deepEqual(told, {
        was: 'design/old', foundAt: '2024-01-10T08:00:00.000Z', isNew: true, why: 'unreadable', text });
      assert.equal((await tab().troubles())[0].isNew, false);
      assert.equal(storage.getItem(`ringwright/${key}`), text);
      assert.equal(storage.getItem('ringwright/design/old'), null);
      assert.equal(await keep.dropTrouble(`design/${good.id}`), false);
      assert.equal(await keep.dropTrouble(key), true);
      assert.deepEqual(await keep.troubles(), []);
    });
  }

  it('is put aside before the same design is saved', async () => {
    const { tab, storage } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A' });
    storage.setItem(`ringwright/design/${record.id}`, 'spoiled');
    assert.deepEqual(await change(keep, record, { name: 'B' }), KEPT);
    storage.setItem(`ringwright/design/${record.id}`, 'spoiled again');
    assert.deepEqual(await keep.open(record.id), { ok: false, why: 'unreadable' });
    assert.deepEqual((await keep.troubles()).map(({ text }) => text).sort(), ['spoiled', 'spoiled again']);
  });

  it('stays where it is when there is no room to move it, and is not overwritten', async () => {
    const { tab, storage } = device(new SmallStorage(900));
    const text = 'x'.repeat(600);
    storage.setItem('ringwright/design/old', text);
    const keep = tab();
    const record = { ...keep.fresh({ name: 'A' }), id: 'old' };
    assert.deepEqual(await keep.save(record), { ok: false, why: 'full' });
    assert.deepEqual(await keep.troubles(), [
      { key: 'design/old', was: 'design/old', foundAt: null, isNew: true, why: 'unreadable', text },
    ]);
  });

  it('leaves a newer program\'s record alone', async () => {
    const { tab, storage } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A' });
    const key = `ringwright/design/${record.id}`;
    const text = storage.getItem(key).replace('"format":1', '"format":2');
    storage.setItem(key, text);
    assert.deepEqual(await keep.save(record), { ok: false, why: 'newer' });
    assert.deepEqual(await keep.open(record.id), { ok: false, why: 'later' });
    assert.equal((await keep.troubles())[0].why, 'later');
    assert.equal(storage.getItem(key), text);
  });

  it('costs a spoiled undo list or earlier state, but not the design', async () => {
    const { tab, storage } = device();
    const keep = tab();
    const { record } = await created(keep, { name: 'A' });
    await change(keep, record, { name: 'B' });
    const [earlierKey] = [...storage.entries.keys()].filter((key) => key.includes('/earlier/'));
    storage.setItem(earlierKey, '{');
    storage.setItem(`ringwright/undo/${record.id}`, '{"past":3}');
    const again = await reopened(tab(), record.id);
    assert.deepEqual([again.design, again.past], [{ name: 'B' }, []]);
    assert.deepEqual(await keep.earlier(record.id), []);
    assert.deepEqual((await keep.troubles()).map(({ text }) => text).sort(), ['{', '{"past":3}']);
  });

  it('does not let a wrong lesser field spoil the record', async () => {
    const { tab, storage } = device();
    const text = '{"design":{"name":"A"},"drafts":{"a":1,"b":"2"},"place":7,"savedAt":"soon","keptOutsideAt":4,"removed":true}';
    storage.setItem('ringwright/design/x', text);
    const { drafts, place, savedAt, keptOutsideAt } = await reopened(tab(), 'x');
    assert.deepEqual([drafts, place, savedAt, keptOutsideAt], [{ b: '2' }, '', '1970-01-01T00:00:00.000Z', null]);
  });
});

describe('a storage without room', () => {
  const wide = (step) => ({ name: 'A', step, note: 'x'.repeat(300) });

  it('gives up the oldest earlier states first', async () => {
    const { tab, clock } = device(new SmallStorage(4500));
    const keep = tab();
    const { record } = await created(keep, wide(0));
    const told = [];
    for (let step = 1; step <= 20; step += 1) {
      clock.time += 3 * MINUTE;
      record.design = wide(step);
      const saved = await keep.save(record);
      assert.equal(saved.ok, true, `step ${step}`);
      told.push(...saved.lost);
    }
    assert.deepEqual([...new Set(told)], ['earlier'], 'and says so');
    const steps = (await keep.earlier(record.id)).map(({ design }) => design.step);
    assert.ok(steps.length >= 5 && steps.length < 12, `${steps}`);
    assert.deepEqual(steps, steps.map((_, index) => 19 - index));
    assert.equal(keep.status().kind, 'disk');
  });

  it('gives up earlier states before the undo lists of other designs', async () => {
    const { tab, storage } = device(new SmallStorage(10_000));
    const keep = tab();
    const other = (await created(keep, wide(0))).record;
    await change(keep, other, wide(1));
    const { record } = await created(keep, wide(2));
    storage.room = storage.used() + 1000;
    record.design = { ...wide(3), note: 'x'.repeat(1400) };
    assert.deepEqual(await keep.save(record), { ok: true, lost: ['earlier'], anew: false });
    assert.deepEqual(await keep.earlier(other.id), []);
    assert.deepEqual((await reopened(keep, other.id)).past, [wide(0)]);
    record.design = { ...wide(4), note: 'x'.repeat(1800) };
    assert.equal((await keep.save(record)).ok, true);
    assert.deepEqual((await reopened(keep, other.id)).past, []);
    assert.deepEqual((await reopened(keep, other.id)).design, wide(1));
  });

  it('is reported, and costs nothing that is there', async () => {
    const { tab, storage, clock } = device(new SmallStorage(4500));
    const keep = tab();
    const { record } = await created(keep, wide(0));
    clock.time += 3 * MINUTE;
    await change(keep, record, wide(1));
    const before = new Map(storage.entries);
    const stamp = record.stamp;
    record.design = { name: 'A', note: 'x'.repeat(5000) };
    assert.deepEqual(await keep.save(record), { ok: false, why: 'full' });
    assert.deepEqual(storage.entries, before);
    assert.equal(record.stamp, stamp);
    assert.equal(keep.status().kind, 'full');
    record.design = wide(2);
    assert.deepEqual(await keep.save(record), KEPT);
    assert.equal(keep.status().kind, 'disk');
  });

  it('gives up removed designs first: removing one makes room', async () => {
    const { tab, storage } = device(new SmallStorage(100_000));
    const keep = tab();
    const old = (await created(keep, wide(0))).record;
    const { record } = await created(keep, wide(1));
    await change(keep, record, wide(2));
    storage.room = storage.used() + 100;
    await keep.remove(old.id);
    record.design = { ...wide(3), note: 'x'.repeat(700) };
    assert.deepEqual(await keep.save(record), { ok: true, lost: ['removed'], anew: false });
    assert.deepEqual(await keep.removed(), []);
    assert.equal((await keep.earlier(record.id)).length, 1);
    assert.deepEqual((await reopened(tab(), record.id)).past, [wide(1)]);
  });

  it('removes for good what it could not even mark', async () => {
    const { tab, storage } = device(new SmallStorage(100_000));
    const keep = tab();
    const { record } = await created(keep, wide(0));
    storage.room = storage.used();
    assert.deepEqual(await keep.remove(record.id), { ok: true, lost: ['removed'], anew: false });
    assert.deepEqual([await keep.list(), await keep.removed()], [[], []]);
  });

  it('shortens the undo list before it refuses the design', async () => {
    const { tab } = device(new SmallStorage(4000));
    const keep = tab();
    const { record } = await created(keep, wide(0));
    record.past = Array.from({ length: 30 }, (_, step) => wide(step));
    assert.equal((await keep.save(record)).lost.at(-1), 'undo');
    assert.deepEqual((await reopened(tab(), record.id)).design, wide(0));
  });
});

describe('the last moment of a page that is put away', () => {
  /** What the next page finds. */
  async function next({ tab }, left) {
    const keep = tab();
    await prepare(keep, left);
    return { keep };
  }

  it('goes on where that page was, once, with its undo list', async () => {
    const own = device();
    const keep = own.tab();
    const { record } = await created(keep, { name: 'A' });
    const left = new MemoryStorage();
    const last = new LastMoment(left, keep.tab);
    last.leave({ ...record, past: [record.design], design: { name: 'B' } });
    const { keep: again } = await next(own, left);
    const found = await reopened(again, record.id);
    assert.deepEqual([found.design, found.past], [{ name: 'B' }, [{ name: 'A' }]]);
    assert.equal(left.length, 0);
    // The browser may bring it back after a cut of the power: it is known already.
    last.leave({ ...record, design: { name: 'B' } });
    await change(again, found, { name: 'C' });
    const { keep: third } = await next(own, left);
    assert.deepEqual((await third.list()).map(({ name }) => name), ['C']);
  });

  it('is forgotten when that page came to write it after all', async () => {
    const own = device();
    const keep = own.tab();
    const { record } = await created(keep, { name: 'A' });
    const left = new MemoryStorage();
    new LastMoment(left, keep.tab).leave({ ...record, design: { name: 'B' } });
    await change(keep, record, { name: 'B' });
    await change(keep, record, { name: 'C' });
    const { keep: again } = await next(own, left);
    assert.deepEqual((await again.list()).map(({ name }) => name), ['C']);
  });

  it('stands beside what another tab has gone on with', async () => {
    const own = device();
    const [keep, other] = [own.tab(), own.tab()];
    const { record } = await created(keep, { name: 'A' });
    const theirs = await reopened(other, record.id);
    const left = new MemoryStorage();
    new LastMoment(left, keep.tab).leave({ ...record, design: { name: 'mine' } });
    await change(other, theirs, { name: 'theirs' });
    const { keep: again } = await next(own, left);
    assert.deepEqual((await again.list()).map(({ name }) => name).sort(), ['mine', 'theirs']);
  });

  it('that cannot be read is put aside', async () => {
    const own = device();
    const left = new MemoryStorage();
    left.setItem('ringwright/pending/x', '{"record":{"des');
    const { keep } = await next(own, left);
    assert.deepEqual((await keep.troubles()).map(({ text }) => text), ['{"record":{"des']);
  });
});

describe('a refused storage', () => {
  it('is replaced by memory and said so', async () => {
    const noRoomAtAll = new SmallStorage(0);
    const refusedAtOnce = new RefusedStorage();
    refusedAtOnce.refused = true;
    const unreachable = {
      get localStorage() {
        throw new DOMException('refused', 'SecurityError');
      },
    };
    for (const window of [unreachable, { localStorage: noRoomAtAll }, { localStorage: refusedAtOnce }]) {
      const storage = localStorageOf(window);
      assert.equal(storage, null);
      const keep = new Keep({ store: bestStore(unreachable, storage), now: () => START, makeId: () => 'only' });
      await prepare(keep, storage);
      assert.equal(keep.status().kind, 'memory');
      const { record, saved } = await created(keep, { name: 'A' });
      assert.deepEqual(saved, { ok: false, why: 'blocked' });
      assert.deepEqual(await change(keep, record, { name: 'B' }), { ok: false, why: 'blocked' });
      assert.deepEqual((await keep.list()).map(({ name }) => name), ['B']);
      assert.deepEqual(keep.status(), { kind: 'memory', lastSavedAt: null });
    }
  });

  it('in the midst of work leaves everything at hand', async () => {
    const { tab, storage } = device(new RefusedStorage());
    const keep = tab();
    const other = (await created(keep, { name: 'other' })).record;
    const { record } = await created(keep, { name: 'A' });
    storage.refused = true;
    assert.deepEqual(await change(keep, record, { name: 'B' }), { ok: false, why: 'blocked' });
    assert.equal(keep.status().kind, 'memory');
    assert.deepEqual((await reopened(keep, record.id)).design, { name: 'B' });
    assert.deepEqual((await reopened(keep, other.id)).design, { name: 'other' });
  });

  it('of the database falls back on the local storage, and says that it is late', async () => {
    const storage = new MemoryStorage();
    const keep = new Keep({ store: bestStore({}, localStorageOf({ localStorage: storage })), now: () => START, makeId: () => 'x' });
    const { saved } = await created(keep, { name: 'A' });
    assert.deepEqual([saved, keep.status().kind], [KEPT, 'late']);
    assert.deepEqual([...storage.entries.keys()].sort(), ['ringwright/design/x', 'ringwright/last-open']);
  });
});

describe('small helpers', () => {
  it('ask the browser to keep the storage', async () => {
    const manager = (before, answer) => ({ storage: { persisted: async () => before, persist: async () => answer } });
    assert.equal(await askToStay(manager(false, true)), 'granted');
    assert.equal(await askToStay(manager(true, false)), 'granted');
    assert.equal(await askToStay(manager(false, false)), 'refused');
    assert.equal(await askToStay({}), 'unsupported');
    const failing = { storage: { persist: () => Promise.reject(new Error('no')) } };
    assert.equal(await askToStay(failing), 'failed');
  });

  it('make identities that differ and fit into a key', async () => {
    const ids = new Set(Array.from({ length: 1000 }, () => randomId(globalThis.crypto)));
    assert.equal(ids.size, 1000);
    assert.ok([...ids].every((id) => /^[0-9a-f]{16}$/.test(id)));
  });
});
