// A message, an object, to the module; its answer as text.
function skerryAnswer(module, message) {
  const text = JSON.stringify(message);
  const size = module.lengthBytesUTF8(text) + 1;
  const at = module._malloc(size);
  module.stringToUTF8(text, at, size);
  const answer = module.UTF8ToString(module._skerry_answer(at));
  module._free(at);
  return answer;
}
