// The clip's pictures, exact and ready to be painted, before they are stepped to.
//
// They come as stretches: one answer with one picture after another, as the server decodes them. The stretch
// onward is read as far as the author may step soon and then left standing, so that its decoder goes on from
// where it is. What lies behind comes in short ones.

import { atWork } from "./work.js";

const MOST_BYTES = 320e6; // of pictures that are kept
const LEAST_KEPT = 17;
const AHEAD = 30; // frames, at most, once the author steps on and on
const AT_FIRST = 16; // where the author has come by a jump
const GROWS = 3; // frames more with each step
const OTHER_WAY = 6;
const BACK = 12; // frames of a stretch that lies behind
const SOON = BACK; // pictures of a stretch that may come before the one that is waited for
const RESTS = 1500; // ms that a stretch is left standing: a browser has few lines to one server
const NUMBER = 4; // bytes of a frame's number before its picture

export class Pictures {
  /** address: of a stretch, with {first} and {last} in it. size: [w, h] px. frames: how many there are. */
  constructor(address, size, frames) {
    this.address = address;
    this.size = size;
    this.frames = frames;
    this.bytes = size[0] * size[1] * 4;
    this.most = Math.max(LEAST_KEPT, Math.floor(MOST_BYTES / this.bytes));
    this.kept = new Map(); // frame -> ImageBitmap, the last used at the end
    this.absent = new Set(); // frames that no picture came of: they are damaged
    this.waiting = new Map(); // frame -> {coming: Promise, done, failed}
    this.middle = null; // the frame in view
    this.onward = 1; // 1 or -1
    this.far = AT_FIRST;
    this.streams = { on: null, back: null };
    this.reading = null; // the one that is read at present
    this.working = null;
    this.rest = 0;
  }

  /** The picture, if it is here. */
  have(frame) {
    const picture = this.kept.get(frame);
    if (picture) {
      this.kept.delete(frame);
      this.kept.set(frame, picture);
    }
    return picture ?? null;
  }

  /** The picture, as soon as it is here; its neighbours come after it. */
  async at(frame) {
    this.ahead(frame);
    const here = this.have(frame);
    if (here) return here;
    if (this.absent.has(frame)) throw new Error(`frame ${frame} cannot be shown`);
    if (this.reading && !reaches(this.reading, frame)) this.reading.close();
    if (!this.waiting.has(frame)) {
      const one = {};
      one.coming = new Promise((done, failed) => Object.assign(one, { done, failed }));
      this.waiting.set(frame, one);
    }
    this.work();
    return this.waiting.get(frame).coming;
  }

  /** Hears which frame is in view; what is likely to be next is fetched. */
  ahead(frame) {
    const by = this.middle === null ? 0 : frame - this.middle;
    if (Math.abs(by) === 1) {
      this.far = by === this.onward ? Math.min(AHEAD, this.far + GROWS) : AT_FIRST;
      this.onward = by;
    } else if (by || this.middle === null) {
      this.far = AT_FIRST;
      this.onward = 1;
    }
    this.middle = frame;
    this.work();
  }

  /** Ends what is on its way. */
  close() {
    clearTimeout(this.rest);
    this.closed = true;
    for (const stream of Object.values(this.streams)) stream?.close();
  }

  // fetching

  /** The frame to fetch first, or null. share: of what is kept on each side at most. */
  goal(share = 1) {
    const lacks = (one) => one >= 0 && one < this.frames && !this.kept.has(one) && !this.absent.has(one);
    if (lacks(this.middle)) return this.middle;
    const room = this.most - 2;
    const ahead = Math.min(this.far, Math.floor(room * 0.7));
    const sides = [
      [this.onward, ahead],
      [-this.onward, Math.min(OTHER_WAY, room - ahead)],
    ];
    for (const [way, far] of sides) {
      for (let by = 1; by <= far * share; by++) {
        if (lacks(this.middle + way * by)) return this.middle + way * by;
      }
    }
    return null;
  }

  /** Fetches what is wanted once half of it is lacking; ends when all of it is here. */
  work() {
    if (!this.working && !this.closed && this.goal(0.5) !== null) this.working = this.fetchAll();
    return this.working;
  }

  async fetchAll() {
    clearTimeout(this.rest);
    try {
      await atWork(async () => {
        for (let goal = this.goal(); goal !== null && !this.closed; goal = this.goal())
          await this.toward(goal);
      });
    } catch (error) {
      for (const one of this.waiting.values()) one.failed(error);
      this.waiting.clear();
    }
    this.working = null;
    this.rest = setTimeout(() => this.streams.on?.close(), RESTS);
  }

  /** Reads the next picture of the stretch that leads to the frame. */
  async toward(frame) {
    const way = frame < this.middle ? "back" : "on";
    if (!reaches(this.streams[way], frame)) {
      this.streams[way]?.close();
      const [first, last] = way === "on" ? [frame, this.frames - 1] : this.behind(frame);
      this.streams[way] = new Stretch(this.address, first, last, NUMBER + this.bytes);
    }
    const stream = this.streams[way];
    this.reading = stream;
    const before = stream.next;
    const content = await stream.read();
    this.reading = null;
    if (stream.closed) return; // another frame is wanted more
    for (let missing = before; missing < stream.next - (content ? 1 : 0); missing++) this.lose(missing);
    if (content) await this.keep(stream.next - 1, content);
  }

  /** The frames up to this one that are lacking, without a gap. */
  behind(frame) {
    const most = this.onward < 0 ? BACK : OTHER_WAY;
    let first = frame;
    while (first > 0 && frame - first < most - 1 && !this.kept.has(first - 1)) first--;
    return [first, frame];
  }

  async keep(frame, content) {
    const pixels = new Uint8ClampedArray(content.buffer, NUMBER, this.bytes);
    const picture = await createImageBitmap(new ImageData(pixels, ...this.size));
    this.kept.get(frame)?.close();
    this.kept.set(frame, picture);
    this.waiting.get(frame)?.done(picture);
    this.waiting.delete(frame);
    for (const old of this.kept.keys()) {
      if (this.kept.size <= this.most) break;
      if (Math.abs(old - this.middle) <= OTHER_WAY) continue;
      this.kept.get(old).close();
      this.kept.delete(old);
    }
  }

  lose(frame) {
    this.absent.add(frame);
    this.waiting.get(frame)?.failed(new Error(`frame ${frame} cannot be shown`));
    this.waiting.delete(frame);
  }
}

function reaches(stream, frame) {
  return (
    stream &&
    !stream.closed &&
    stream.next <= frame &&
    frame < stream.next + SOON &&
    frame <= stream.last
  );
}

/** One answer with the pictures from `first` to `last`, read one by one. */
class Stretch {
  constructor(address, first, last, size) {
    Object.assign(this, { next: first, last, size, closed: false });
    this.stop = new AbortController();
    this.asked = fetch(address.replace("{first}", first).replace("{last}", last), {
      signal: this.stop.signal,
    });
    this.asked.catch(() => {}); // heard where it is read
    this.reader = null;
    this.left = new Uint8Array(0); // of what came, the next picture's beginning
  }

  close() {
    this.closed = true;
    this.stop.abort();
  }

  /** The next picture with its number before it; null where there is none any more. */
  async read() {
    try {
      this.reader ??= await this.begun();
      const content = await this.filled();
      this.next = content ? new DataView(content.buffer).getUint32(0, true) + 1 : this.last + 1;
      return content;
    } catch (error) {
      if (this.closed) return null;
      this.close();
      throw error;
    }
  }

  async begun() {
    const answer = await this.asked;
    if (!answer.ok)
      throw new Error((await answer.json().catch(() => null))?.error?.reason ?? "no picture came");
    return answer.body.getReader();
  }

  async filled() {
    const content = new Uint8Array(this.size);
    let filled = 0;
    for (;;) {
      const fits = Math.min(this.left.length, this.size - filled);
      content.set(this.left.subarray(0, fits), filled);
      this.left = this.left.subarray(fits);
      filled += fits;
      if (filled === this.size) return content;
      const { done, value } = await this.reader.read();
      if (done && !filled) return null;
      if (done) throw new Error("the pictures broke off");
      this.left = value;
    }
  }
}
