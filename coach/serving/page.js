// What the library's page leaves open: keys count from the first, and the letters are there
// before the cells are measured by them.
"use strict";
{
  // What is typed while the socket is still opening is sent once it has.
  const send = WebSocket.prototype.send;
  WebSocket.prototype.send = function (data) {
    if (this.readyState === WebSocket.CONNECTING)
      this.addEventListener("open", () => send.call(this, data));
    else if (this.readyState === WebSocket.OPEN) send.call(this, data);
  };

  const keys = () => {
    if (document.body.classList.contains("-closed")) document.querySelector("#again").focus();
    else document.querySelector(".xterm-helper-textarea")?.focus();
  };
  const start = window.onload;
  window.onload = async (event) => {
    document.querySelector("#again").addEventListener("click", () => location.reload());
    const faces = ["16px", "bold 16px", "italic 16px"];
    await Promise.allSettled(faces.map((face) => document.fonts.load(`${face} "Roboto Mono"`)));
    start(event);
    keys();
    window.addEventListener("focus", keys);
    document.addEventListener("mouseup", () => setTimeout(keys));
    new MutationObserver(keys).observe(document.body, { attributeFilter: ["class"] });
  };
}
