// What the pages ask of the desk's server. Every answer is JSON; a refusal becomes a Refused.

import { atWork } from "./work.js";

export class Refused extends Error {
  constructor(status, body) {
    super(body?.error?.reason ?? "the desk does not answer");
    this.status = status;
    this.wayOut = body?.error?.way_out ?? "";
    this.problems = body?.problems ?? [];
    this.collisions = body?.collisions ?? [];
    this.body = body;
  }

  get whole() {
    return this.wayOut ? `${this.message}: ${this.wayOut}` : this.message;
  }
}

async function asked(method, path, body, signal) {
  const how = { method, signal, headers: {} };
  if (body !== undefined) {
    how.headers["Content-Type"] = "application/json";
    how.body = JSON.stringify(body);
  }
  let answer;
  try {
    answer = await fetch(path, how);
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw new Refused(0, {
      error: {
        reason: "the desk does not answer",
        way_out: "start it again; all that was kept is kept",
      },
    });
  }
  if (!answer.ok) throw new Refused(answer.status, await answer.json().catch(() => null));
  return answer;
}

const told = (method, path, body, signal) =>
  atWork(async () => (await asked(method, path, body, signal)).json());
const get = (path, signal) => told("GET", path, undefined, signal);
const post = (path, body, signal) => told("POST", path, body, signal);

/** An answer in lines of JSON, each given to `each` as it comes. */
const lined = (path, body, each, signal) =>
  atWork(async () => {
    const answer = await asked("POST", path, body, signal);
    const reader = answer.body.pipeThrough(new TextDecoderStream()).getReader();
    let rest = "";
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      const lines = (rest + value).split("\n");
      rest = lines.pop();
      for (const line of lines) if (line) each(JSON.parse(line));
    }
  });

const clipPath = (clip) => `/api/clips/${encodeURIComponent(clip)}`;
const lessonPath = (lesson) => `/api/lessons/${encodeURIComponent(lesson)}`;

export const api = {
  site: () => get("/api/site"),
  clip: (clip) => get(clipPath(clip)),
  marks: (clip) => get(`${clipPath(clip)}/marks`),
  card: (clip) => get(`${clipPath(clip)}/card`),
  motion: (clip) => get(`${clipPath(clip)}/motion`),
  proposed: (clip) => get(`${clipPath(clip)}/proposed`),
  doubts: (clip) => get(`${clipPath(clip)}/doubts`),
  camera: (clip) => get(`${clipPath(clip)}/camera`),
  saveMarks: (clip, body) => post(`${clipPath(clip)}/marks`, body),
  suggest: (clip, body) => post(`${clipPath(clip)}/suggest`, body),
  saveTracks: (clip, body) => post(`${clipPath(clip)}/tracks`, body),
  saveCard: (clip, body) => post(`${clipPath(clip)}/card`, body),
  length: (clip, body, signal) => post(`${clipPath(clip)}/length`, body, signal),
  draft: (body, signal) => post("/api/draft", body, signal),
  block: (kind, fields) => post("/api/block", { kind, fields }),
  lesson: (lesson) => get(lessonPath(lesson)),
  wanted: (lesson) => get(`${lessonPath(lesson)}/wanted`),
  putFigure: (lesson, block, line) => post(`${lessonPath(lesson)}/figures`, { block, line }),
  saveLesson: (lesson, body) => told("PUT", lessonPath(lesson), body),
  offers: (lesson, body) => post(`${lessonPath(lesson)}/offers`, body),
  slips: (lesson, body) => post(`${lessonPath(lesson)}/slips`, body),
  letter: (lesson, body) => post(`${lessonPath(lesson)}/letter`, body),
  usual: (clip, body) => post(`${clipPath(clip)}/usual`, body),
  renameLesson: (lesson, to) => post(`${lessonPath(lesson)}/name`, { to }),
  renameClip: (clip, to) => post(`${clipPath(clip)}/name`, { to }),
  putClipAway: (clip) => post(`${clipPath(clip)}/away`, {}),
  putLessonAway: (lesson) => post(`${lessonPath(lesson)}/away`, {}),
  takeBack: (path) => post("/api/put-away/back", { path }),
  newLesson: (body) => post("/api/lessons", body),
  preflight: () => get("/api/preflight"),
  answer: (body) => post("/api/answers", body),
  saves: () => get("/api/saves"),
  difference: (number) => get(`/api/saves/${number}`),
  restore: (body) => post("/api/restore", body),
  proof: () => get("/api/proof"),
  press: () => post("/api/proof", {}),

  /** Carries marks; `each` is given every line of the answer as it comes. */
  track: (clip, body, each, signal) => lined(`${clipPath(clip)}/track`, body, each, signal),
  /** Suggests marks on every picture, likewise. */
  suggestAll: (clip, each, signal) => lined(`${clipPath(clip)}/suggest-all`, {}, each, signal),

  /** Sends a video; `each` is given the share that has gone out. */
  upload(file, each) {
    const query = new URLSearchParams({ file: file.name });
    return atWork(
      () =>
        new Promise((done, failed) => {
          const sent = new XMLHttpRequest();
          sent.open("POST", `/api/uploads?${query}`);
          sent.setRequestHeader(
            "Content-Type",
            file.type.startsWith("video/") ? file.type : "application/octet-stream",
          );
          sent.upload.addEventListener("progress", (event) => {
            if (event.lengthComputable) each(event.loaded / event.total);
          });
          sent.addEventListener("load", () => {
            let body = null;
            try {
              body = JSON.parse(sent.responseText);
            } catch {
              // told below as a desk that does not answer
            }
            if (sent.status === 201 && body) done(body);
            else failed(new Refused(sent.status, body));
          });
          sent.addEventListener("error", () => failed(new Refused(0, null)));
          sent.send(file);
        }),
    );
  },
};
