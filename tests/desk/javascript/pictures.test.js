import { Pictures } from "/pages/pictures.js";
import { equal } from "./check.js";

const SIZE = [2, 1];

/** A server of stretches, one pixel's red the frame's number; asked: the stretches that were begun. */
async function served(frames, damaged, doing) {
  const before = window.fetch;
  const asked = [];
  window.fetch = async (address, { signal }) => {
    const [first, last] = address.split("-").map(Number);
    asked.push([first, last]);
    let frame = first;
    const next = (stream) => {
      while (damaged.includes(frame)) frame++;
      if (frame > last || signal.aborted) return stream.close();
      const number = new Uint8Array(new Uint32Array([frame]).buffer);
      stream.enqueue(new Uint8Array([...number, frame++, 0]));
      return stream.enqueue(new Uint8Array([0, 255, 0, 0, 0, 255])); // a picture comes in two pieces
    };
    return new Response(new ReadableStream({ pull: next }, { highWaterMark: 0 }));
  };
  const pictures = new Pictures("{first}-{last}", SIZE, frames);
  try {
    await doing(pictures, asked);
  } finally {
    pictures.close();
    window.fetch = before;
  }
}

function red(picture) {
  const canvas = new OffscreenCanvas(...SIZE).getContext("2d");
  canvas.drawImage(picture, 0, 0);
  return canvas.getImageData(0, 0, 1, 1).data[0];
}

export async function a_key_that_is_held_finds_its_pictures_in_one_stretch() {
  await served(90, [], async (pictures, asked) => {
    equal(red(await pictures.at(20)), 20);
    await pictures.work();
    for (let frame = 21; frame < 60; frame++) {
      equal(red(pictures.have(frame)), frame);
      pictures.ahead(frame);
      await pictures.work();
    }
    equal(asked, [
      [20, 89],
      [14, 19],
    ]);
  });
}

export async function what_lies_behind_is_there_before_it_is_stepped_to() {
  await served(90, [], async (pictures, asked) => {
    await pictures.at(60);
    await pictures.work();
    for (let frame = 59; frame > 20; frame--) {
      equal(red(pictures.have(frame)), frame);
      pictures.ahead(frame);
      await pictures.work();
    }
    equal(asked.length < 8, true);
  });
}

export async function a_jump_does_not_wait_for_what_was_on_its_way() {
  await served(300, [], async (pictures, asked) => {
    pictures.at(0);
    equal(red(await pictures.at(200)), 200);
    equal(
      asked.map(([first]) => first),
      [0, 200],
    );
  });
}

export async function a_damaged_picture_is_told_and_those_after_it_are_shown() {
  await served(30, [4, 29], async (pictures) => {
    const told = await pictures.at(4).catch((error) => error.message);
    equal(told, "frame 4 cannot be shown");
    equal(red(await pictures.at(5)), 5);
    equal(await pictures.at(29).catch((error) => error.message), "frame 29 cannot be shown");
  });
}
