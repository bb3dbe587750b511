// The program's standard streams, its arguments, and what the screen can show.
// Room: os. Sees core only.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace skerry::os {

/// What the standard streams lead to.
struct Terminal {
  bool out = false, err = false;  ///< is a terminal
  bool colour = true;             ///< it knows colours and nobody has asked for none (NO_COLOR, TERM=dumb)
  bool utf8 = false;
  int columns = 100;  ///< Judgement: where nobody knows
  int rows = 0;       ///< 0: nobody knows
};
[[nodiscard]] Terminal terminal();

/// A reader that goes away and a file that may not grow are told by put_out(), not by a signal; a stream that the
/// caller closed gets a stand-in that fails when it is used, lest the next file opened be taken for the screen.
/// For main(), first of all.
void prepare_streams();

/// All of `text` to standard output, its bytes as they are. False: errno says why not.
[[nodiscard]] bool put_out(std::string_view text);

/// The same for a terminal: what is longer than the screen goes through the program named by SKERRY_PAGER, else by
/// PAGER, else less where it is there; an empty name, or a terminal that can do nothing (TERM=dumb), turns that
/// off. Waits until the reader has left it; who leaves early has seen enough: true. Straight on Windows.
[[nodiscard]] bool put_out_paged(std::string_view text, const Terminal& terminal);

/// The arguments after the program's name, in UTF-8.
[[nodiscard]] std::vector<std::string> arguments(int argc, char** argv);

}  // namespace skerry::os
