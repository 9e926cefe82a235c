// Copies words that stand beside a button: what to say of a plate, and whom to name.
import { exchangeWords } from "./words.js";

const LONG_ENOUGH = 2500; // ms that a button says that it has copied

/** The buttons of a plate, which go where the browser does not let pages copy: on a host without TLS. */
export function offerCopies(plate) {
  for (const button of plate.querySelectorAll(".copied > button")) {
    if (!navigator.clipboard) button.remove();
    button.addEventListener("click", () => copy(button, plate.querySelector(".use > [role=status]")));
  }
}

async function copy(button, status) {
  // as shown: of words in both units those of the reader's choice
  await navigator.clipboard.writeText(button.previousElementSibling.innerText);
  if (button.ariaDisabled) return;
  button.ariaDisabled = "true";
  exchangeWords(button);
  status.textContent = button.textContent;
  setTimeout(() => {
    exchangeWords(button);
    status.textContent = "";
    button.ariaDisabled = null;
  }, LONG_ENOUGH);
}
