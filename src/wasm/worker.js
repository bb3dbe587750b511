// The page's worker, behind what starts the module: first {engine: the packed module as text}, then {id, message} each of
// which is answered by {id, reply}.
let skerryReady;
self.onmessage = async ({ data }) => {
  if (data.engine !== undefined) {
    skerryReady = (async () => {
      return skerryModule({ wasmBinary: skerryUnpack(skerryBytes(data.engine)) });
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
