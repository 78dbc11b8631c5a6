/**
 * Holds the desk in WebAssembly. A message is a question, `{id, name, body}`, the first one
 * `{id, module}`; each is answered by `{id, status, missed, kind, bytes}`, or `{id, broken}`
 * where the desk broke off and this worker is of no more use. `{packed}` is answered by
 * `{module}`, what was packed as zlib does, compiled.
 */
(() => {
  /**
   * @typedef {object} Desk
   * @property {WebAssembly.Memory} memory
   * @property {(length: number) => number} room
   * @property {(name: number, nameLength: number, body: number, bodyLength: number, now: number) => number} answer
   * @property {(told: number) => void} forget
   * @property {() => number} why
   */
  /** @type {Promise<Desk> | null} */
  let begun = null;

  const inUtf8 = new TextEncoder();
  const ofUtf8 = new TextDecoder();

  /**
   * Puts bytes where the desk can take them.
   * @param {Desk} desk
   * @param {Uint8Array} bytes
   */
  function put(desk, bytes) {
    const start = desk.room(bytes.length);
    new Uint8Array(desk.memory.buffer, start, bytes.length).set(bytes);
    return start;
  }

  /**
   * @param {Desk} desk
   * @param {string} name
   * @param {Uint8Array} body
   */
  function asked(desk, name, body) {
    const called = inUtf8.encode(name);
    return read(desk, desk.answer(put(desk, called), called.length, put(desk, body), body.length, Date.now() / 1000));
  }

  /**
   * What the desk told.
   * @param {Desk} desk
   * @param {number} told where it stands
   */
  function read(desk, told) {
    const [status, missed, kind, kindLength, start, length] = new Uint32Array(desk.memory.buffer, told, 6);
    const text = new Uint8Array(desk.memory.buffer, kind, kindLength);
    const answer = {
      status, missed,
      kind: ofUtf8.decode(text),
      bytes: desk.memory.buffer.slice(start ?? 0, (start ?? 0) + (length ?? 0)),
    };
    desk.forget(told);
    return answer;
  }

  /**
   * @param {WebAssembly.Module} module
   * @returns {Promise<Desk>}
   */
  async function begin(module) {
    const { exports } = await WebAssembly.instantiate(module, {});
    return /** @type {Desk} */ (/** @type {unknown} */ (exports));
  }

  /** @param {ArrayBuffer} packed */
  function compiled(packed) {
    const opened = /** @type {ReadableStream} */ (new Response(packed).body).pipeThrough(new DecompressionStream("deflate"));
    return WebAssembly.compileStreaming(new Response(opened, { headers: { "content-type": "application/wasm" } }));
  }

  self.onmessage = async ({ data: { id, packed, module, name, body } }) => {
    /** @type {Desk | null} */
    let desk = null;
    try {
      if (packed) {
        self.postMessage({ module: await compiled(packed) });
        return;
      }
      if (module) begun = begin(module);
      // Questions that came meanwhile wait, and are answered in their order.
      desk = await begun;
      if (!desk) throw new Error("the desk is not here yet");
      if (module) {
        self.postMessage({ id });
        return;
      }
      const bytes = typeof body === "string" ? inUtf8.encode(body) : new Uint8Array(body);
      const answer = asked(desk, name, bytes);
      self.postMessage({ id, ...answer }, { transfer: [answer.bytes] });
    } catch (error) {
      const why = desk ? ofUtf8.decode(read(desk, desk.why()).bytes) : "";
      self.postMessage({ id, broken: why || String(error) });
    }
  };
})();
