// The page's door into the engine: a JSON message in, a JSON answer out.
#include <string>

#include "skerry/engine/session.hpp"

/// The answer to a message (UTF-8, ends with a zero byte); it stands until the next call.
extern "C" const char* skerry_answer(const char* message) {
  static skerry::engine::Session session;
  static std::string answer;
  answer = session.answer(message);
  return answer.c_str();
}
