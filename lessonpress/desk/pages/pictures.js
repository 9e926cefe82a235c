// The clip's pictures, fetched ahead and kept decoded, so that a step near the last one asks for nothing.

import { atWork } from "./work.js";

const AROUND = 8; // frames kept on each side of the middle
const SLACK = 4; // how far one may step before the middle moves
const MOST_BYTES = 320e6; // of decoded pictures
const AT_ONCE = 3;

export class Pictures {
  /** address: with {frame} in it. size: [w, h] px. frames: how many there are. */
  constructor(address, size, frames) {
    this.address = address;
    this.frames = frames;
    this.most = Math.max(2 * AROUND + 1, Math.floor(MOST_BYTES / (size[0] * size[1] * 4)));
    this.kept = new Map(); // frame -> ImageBitmap, the last used at the end
    this.coming = new Map(); // frame -> Promise
    this.queue = [];
    this.middle = null;
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
    const here = this.have(frame);
    const fetched = here ?? (await this.fetched(frame));
    this.ahead(frame);
    return fetched;
  }

  ahead(frame) {
    if (this.middle !== null && Math.abs(frame - this.middle) <= SLACK) return;
    const onward = this.middle === null || frame >= this.middle ? 1 : -1;
    this.middle = frame;
    this.queue = [];
    for (let far = 1; far <= AROUND; far++) {
      for (const near of [frame + far * onward, frame - far * onward]) {
        if (near >= 0 && near < this.frames && !this.kept.has(near)) this.queue.push(near);
      }
    }
    this.work();
  }

  work() {
    while (this.coming.size < AT_ONCE && this.queue.length) {
      const frame = this.queue.shift();
      if (!this.kept.has(frame) && !this.coming.has(frame)) this.fetched(frame).catch(() => {});
    }
  }

  fetched(frame) {
    if (!this.coming.has(frame)) {
      const coming = atWork(() => this.fetch(frame)).finally(() => {
        this.coming.delete(frame);
        this.work();
      });
      this.coming.set(frame, coming);
    }
    return this.coming.get(frame);
  }

  async fetch(frame) {
    const answer = await fetch(this.address.replace("{frame}", frame));
    if (!answer.ok) throw new Error(`frame ${frame} cannot be shown`);
    const picture = await createImageBitmap(await answer.blob());
    this.kept.set(frame, picture);
    for (const old of this.kept.keys()) {
      if (this.kept.size <= this.most) break;
      this.kept.get(old).close();
      this.kept.delete(old);
    }
    return picture;
  }
}
