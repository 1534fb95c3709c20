// Every request to the service. Answers are plain objects; anything but success is an ApiError with a sentence.

/** What went wrong, in words for the person. `status` 0: the service did not answer at all. */
export class ApiError extends Error {
  constructor(status, message, body = null) {
    super(message);
    this.name = "ApiError";
    this.status = status;
    this.body = body;
  }
}

const UNREACHED = "The Probeside service does not answer. Nothing you see is lost; start it again with “probeside serve”.";

function sentence(status, body) {
  const detail = body?.detail ?? body?.title;
  if (typeof detail === "string") return detail;
  if (Array.isArray(detail)) return detail.map((part) => part.msg ?? String(part)).join("; ");
  return `The service answered with status ${status}.`;
}

async function request(method, path, { json, form, signal } = {}) {
  const options = { method, signal, headers: {} };
  if (json !== undefined) {
    options.body = JSON.stringify(json);
    options.headers["Content-Type"] = "application/json";
  } else if (form) {
    options.body = form;
  }
  let answer;
  try {
    answer = await fetch(path, options);
  } catch (error) {
    if (error.name === "AbortError") throw error;
    throw new ApiError(0, UNREACHED);
  }
  const text = await answer.text();
  let body = null;
  try {
    body = text ? JSON.parse(text) : null;
  } catch {
    body = null;
  }
  if (!answer.ok) throw new ApiError(answer.status, sentence(answer.status, body), body);
  return body;
}

export const get = (path, options) => request("GET", path, options);
export const send = (method, path, json) => request(method, path, { json });

/** Sends files with progress: `onProgress(share)` gets 0 to 1 while bytes leave. Resolves to the answer. */
export function upload(path, form, onProgress) {
  return new Promise((resolve, reject) => {
    const sending = new XMLHttpRequest();
    sending.open("POST", path);
    sending.responseType = "json";
    sending.upload.onprogress = (event) => event.lengthComputable && onProgress(event.loaded / event.total);
    sending.onload = () =>
      sending.status >= 200 && sending.status < 300
        ? resolve(sending.response)
        : reject(new ApiError(sending.status, sentence(sending.status, sending.response), sending.response));
    sending.onerror = () => reject(new ApiError(0, UNREACHED));
    sending.send(form);
  });
}

const at = (id) => `/api/inspections/${encodeURIComponent(id)}`;

export const paths = {
  inspections: "/api/inspections",
  inspection: at,
  progress: (id) => `${at(id)}/progress`,
  audio: (sha) => `/api/recordings/${sha}/audio`,
  peaks: (sha) => `/api/recordings/${sha}/peaks`,
  photo: (sha, size) => `/api/photos/${sha}?size=${size}`,
  report: (id, format) => `${at(id)}/report.${format}`,
  search: (words) => `/api/search?q=${encodeURIComponent(words)}`,
  due: "/api/due",
  vocabulary: "/api/vocabulary",
};
