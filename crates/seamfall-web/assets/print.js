// Makes the book without leaving the page: how long it takes is shown, and it can be stopped.
"use strict";
{
  const form = document.getElementById("book-form");
  const [make, stop, line, said, done, link, message] = ["book-make", "book-stop", "book-progress", "book-said", "book-done", "book-link", "message"].map((id) => document.getElementById(id));
  let asked = null;
  const busy = (is) => { make.disabled = is; stop.hidden = !is; line.hidden = !is; };
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    asked = new AbortController();
    const since = performance.now();
    const tell = () => { said.textContent = say("The book is being made: {seconds} s", { seconds: Math.floor((performance.now() - since) / 1000) }); };
    const clock = setInterval(tell, 500);
    tell();
    busy(true);
    done.hidden = message.hidden = true;
    try {
      const answer = await fetch(`${form.action}?${new URLSearchParams(new FormData(form))}`, { signal: asked.signal });
      if (!answer.ok) throw new Error(new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("main p")?.textContent ?? say("The book could not be made."));
      if (link.href) URL.revokeObjectURL(link.href);
      const book = await answer.blob();
      link.href = URL.createObjectURL(book);
      link.download = /filename="([^"]+)"/.exec(answer.headers.get("content-disposition"))?.[1] ?? "book.pdf";
      link.textContent = say("Save the book: {file}, {size} MB, made in {seconds} s", { file: link.download, size: (book.size / 1e6).toFixed(1), seconds: ((performance.now() - since) / 1000).toFixed(1) });
      done.hidden = false;
      link.focus();
    } catch (error) {
      message.textContent = error.name === "AbortError" ? say("Stopped; no book was made.") : error instanceof TypeError ? say("The workroom does not answer. Is it still running?") : error.message;
      message.hidden = false;
      make.focus();
    } finally {
      clearInterval(clock);
      busy(false);
    }
  });
  stop.addEventListener("click", () => asked?.abort());
}
