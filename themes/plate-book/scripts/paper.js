// The button of a lesson's card, which opens the browser's own window for printing.

const button = document.querySelector(".print");
button.hidden = false;
button.addEventListener("click", () => print());
