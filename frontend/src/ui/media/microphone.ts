import { RATE_HZ, speechFile } from "../../core/base/speech.ts";

/** Half a minute; the last syllable is not cut. */
export const MOST_MS = 30_000;

export interface Speech {
  content: Uint8Array<ArrayBuffer>;
  ms: number;
}

/** Listens until it is stopped. Each engine records in its own format; what is kept is one that all of them play. */
export class Microphone {
  readonly #stream: MediaStream;
  readonly #recorder: MediaRecorder;
  readonly #parts: Blob[] = [];

  private constructor(stream: MediaStream) {
    this.#stream = stream;
    this.#recorder = new MediaRecorder(stream);
    this.#recorder.ondataavailable = ({ data }) => void this.#parts.push(data);
    this.#recorder.start();
  }

  /** Throws where there is no microphone, or the person says no to it. */
  static async open(): Promise<Microphone> {
    return new Microphone(await navigator.mediaDevices.getUserMedia({ audio: { channelCount: 1 } }));
  }

  async stop(): Promise<Speech> {
    const ended = new Promise((done) => this.#recorder.addEventListener("stop", done, { once: true }));
    this.#recorder.stop();
    await ended;
    this.close();
    return speechOf(await new Blob(this.#parts, { type: this.#recorder.mimeType }).arrayBuffer());
  }

  close(): void {
    this.#stream.getTracks().forEach((track) => track.stop());
  }
}

async function speechOf(recorded: ArrayBuffer): Promise<Speech> {
  const decoder = new AudioContext();
  const heard = await decoder.decodeAudioData(recorded).finally(() => void decoder.close());
  const seconds = Math.min(heard.duration, MOST_MS / 1000);
  const slow = new OfflineAudioContext(1, Math.max(1, Math.floor(seconds * RATE_HZ)), RATE_HZ);
  const source = slow.createBufferSource();
  source.buffer = heard;
  source.connect(slow.destination);
  source.start();
  const samples = (await slow.startRendering()).getChannelData(0);
  return { content: speechFile(samples), ms: Math.max(1, Math.round((samples.length / RATE_HZ) * 1000)) };
}
