#include "skerry/os/terminal.hpp"

#include <fcntl.h>
#include <io.h>
#include <windows.h>

// After windows.h, which it needs.
#include <shellapi.h>

#include <cstdio>
#include <filesystem>

#include "skerry/os/surroundings.hpp"

namespace skerry::os {

namespace {

/// Whether a stream leads to a console, which then is told to expect UTF-8 and to follow colours.
bool console(int number, bool& colour, int& columns) {
  const auto handle = reinterpret_cast<HANDLE>(_get_osfhandle(number));
  DWORD mode = 0;
  if (GetConsoleMode(handle, &mode) == 0) return false;
  colour = SetConsoleMode(handle, mode | ENABLE_VIRTUAL_TERMINAL_PROCESSING) != 0;
  CONSOLE_SCREEN_BUFFER_INFO info{};
  if (GetConsoleScreenBufferInfo(handle, &info) != 0) columns = info.srWindow.Right - info.srWindow.Left + 1;
  return true;
}

}  // namespace

Terminal terminal() {
  Terminal out;
  bool colour = true;
  int ignored = 0;
  out.err = console(2, colour, ignored);
  out.out = console(1, colour, out.columns);
  out.colour = colour && !variable("NO_COLOR") && variable("TERM") != "dumb";
  out.utf8 = SetConsoleOutputCP(CP_UTF8) != 0;
  return out;
}

void prepare_streams() {
  for (const int number : {0, 1, 2}) (void)_setmode(number, _O_BINARY);
}

bool put_out(std::string_view text) {
  // Source: Microsoft, _write (from memory): a console takes no more than 32 kB at once.
  constexpr std::size_t most = 16384;
  while (!text.empty()) {
    const auto part = text.substr(0, most);
    const int put = _write(1, part.data(), static_cast<unsigned>(part.size()));
    if (put < 0) return false;
    text.remove_prefix(static_cast<std::size_t>(put));
  }
  return true;
}

bool put_out_paged(std::string_view text, const Terminal& terminal) {
  (void)terminal;
  return put_out(text);
}

std::vector<std::string> arguments(int argc, char** argv) {
  (void)argc;
  (void)argv;  // in the system's old code page: names of files would be lost
  int count = 0;
  wchar_t** words = CommandLineToArgvW(GetCommandLineW(), &count);
  std::vector<std::string> out;
  for (int i = 1; words != nullptr && i < count; ++i) {
    const int bytes = WideCharToMultiByte(CP_UTF8, 0, words[i], -1, nullptr, 0, nullptr, nullptr);
    std::string word(static_cast<std::size_t>(bytes > 0 ? bytes : 1), '\0');
    WideCharToMultiByte(CP_UTF8, 0, words[i], -1, word.data(), bytes, nullptr, nullptr);
    word.pop_back();
    out.push_back(word);
  }
  LocalFree(words);
  return out;
}

}  // namespace skerry::os
