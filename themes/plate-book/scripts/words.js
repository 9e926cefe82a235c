// Words on buttons: the page brings them, and a script only puts them in place.

/** A button's words change places with those for its other state. */
export function exchangeWords(button) {
  [button.textContent, button.dataset.otherwise] = [button.dataset.otherwise, button.textContent];
}
