// SPDX-License-Identifier: GPL-3.0-or-later
// The microphone.

const kinds = [['audio/mp4', '.m4a'], ['audio/webm;codecs=opus', '.webm'], ['audio/ogg;codecs=opus', '.ogg']];

export class Recorder {
  #recorder = null;
  #parts = [];
  #ending = '';

  get running() {
    return this.#recorder !== null;
  }

  async start() {
    const audio = { echoCancellation: false, noiseSuppression: false, autoGainControl: false }; // they are for talk
    const stream = await navigator.mediaDevices.getUserMedia({ audio });
    const [type, ending] = kinds.find(([kind]) => MediaRecorder.isTypeSupported(kind)) ?? ['', '.webm'];
    this.#ending = ending;
    this.#parts = [];
    this.#recorder = new MediaRecorder(stream, type ? { mimeType: type } : {});
    this.#recorder.addEventListener('dataavailable', ({ data }) => this.#parts.push(data));
    this.#recorder.start(1000);
  }

  async stop() {
    const recorder = this.#recorder;
    await new Promise((done) => {
      recorder.addEventListener('stop', done, { once: true });
      recorder.stop();
    });
    recorder.stream.getTracks().forEach((track) => track.stop());
    this.#recorder = null;
    return { blob: new Blob(this.#parts, { type: recorder.mimeType }), ending: this.#ending };
  }
}
