// The page's worker, behind what starts the module: first {engine: base64 of the packed module}, then {id, message} each of
// which is answered by {id, reply}.
let skerryReady;
self.onmessage = async ({ data }) => {
  if (data.engine !== undefined) {
    skerryReady = (async () => {
      const packed = Uint8Array.from(atob(data.engine), (letter) => letter.charCodeAt(0));
      return skerryModule({ wasmBinary: skerryUnpack(packed) });
    })();
    return;
  }
  let reply;
  try {
    // The files that the trip names come along with the page.
    const files = data.message.do === 'open' && self.skerryFiles ? { files: self.skerryFiles } : {};
    reply = JSON.parse(skerryAnswer(await skerryReady, { ...files, ...data.message }));
  } catch (problem) {
    reply = { error: 'What computes has stopped: ' + problem.message };
  }
  self.postMessage({ id: data.id, reply });
};
