// Whether anything is on its way still: said on the body, where it is shown and can be waited for.

let under = 0;

function more(by) {
  under += by;
  document.body.toggleAttribute("data-at-work", under > 0);
}

/** Does what takes time. */
export async function atWork(doing) {
  more(1);
  try {
    return await doing();
  } finally {
    more(-1);
  }
}

/** Calls once things have been quiet for `ms`. */
export function whenQuiet(ms, call) {
  let waiting = 0;
  const forget = () => {
    if (waiting) more(-1);
    clearTimeout(waiting);
    waiting = 0;
  };
  const later = (...given) => {
    forget();
    more(1);
    waiting = setTimeout(() => {
      waiting = 0; // the call may ask to be called once more
      atWork(async () => call(...given)); // it has begun its own work before this wait ends
      more(-1);
    }, ms);
  };
  later.forget = forget;
  return later;
}

/** Calls once the screen shows what stands now, however often it is asked for until then. */
export function afterPaint(call) {
  let due = false;
  return () => {
    if (due) return;
    due = true;
    more(1);
    requestAnimationFrame(() =>
      setTimeout(() => {
        due = false;
        atWork(async () => call());
        more(-1);
      }),
    );
  };
}
