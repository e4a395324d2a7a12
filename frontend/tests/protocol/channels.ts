import type { Channel } from "../../src/core/base/env.ts";

/** Word between the tabs of one browser. */
export class Channels {
  #open: { name: string; channel: Channel }[] = [];

  readonly open = (name: string): Channel => {
    const close = () => void (this.#open = this.#open.filter((each) => each.channel !== channel));
    const postMessage = (data: unknown) => {
      const others = this.#open.filter((each) => each.name === name && each.channel !== channel);
      for (const other of others) setImmediate(() => this.#hand(other.channel, data));
    };
    const channel: Channel = { close, postMessage, onmessage: null };
    this.#open.push({ name, channel });
    return channel;
  };

  #hand(channel: Channel, data: unknown): void {
    if (this.#open.some((each) => each.channel === channel)) channel.onmessage?.({ data } as MessageEvent);
  }

  /** The browser's process is gone. */
  end(): void {
    this.#open = [];
  }
}
