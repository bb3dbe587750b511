// Technical words and when they were first used; and text for terminals that know ASCII only.

#include <algorithm>
#include <array>
#include <cctype>
#include <string>

#include "skerry/core/table.hpp"
#include "skerry/words/explain.hpp"

namespace skerry::words {

namespace {

bool part_of_word(char c) {
  return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
}

bool stands_in(std::string_view text, std::string_view form) {
  for (auto at = text.find(form); at != std::string_view::npos; at = text.find(form, at + 1)) {
    const auto end = at + form.size();
    if ((at == 0 || !part_of_word(text[at - 1])) && (end == text.size() || !part_of_word(text[end])))
      return true;
  }
  return false;
}

struct Plain {
  std::string_view from, to;
};
/// UTF-8 sequences that names and our own sentences hold, and their plain spelling.
constexpr auto plain = std::to_array<Plain>({
    {"°", " deg"}, {"–", "-"},  {"—", "-"},  {"‘", "'"}, {"’", "'"}, {"“", "\""}, {"”", "\""}, {"…", "..."},
    {"−", "-"},    {"×", "x"},  {"ß", "ss"}, {"à", "a"}, {"á", "a"}, {"â", "a"},  {"ã", "a"},  {"ä", "ae"},
    {"å", "a"},    {"æ", "ae"}, {"ç", "c"},  {"è", "e"}, {"é", "e"}, {"ê", "e"},  {"ë", "e"},  {"ì", "i"},
    {"í", "i"},    {"î", "i"},  {"ï", "i"},  {"ð", "d"}, {"ñ", "n"}, {"ò", "o"},  {"ó", "o"},  {"ô", "o"},
    {"õ", "o"},    {"ö", "oe"}, {"ø", "o"},  {"ù", "u"}, {"ú", "u"}, {"û", "u"},  {"ü", "ue"}, {"ý", "y"},
    {"þ", "th"},   {"À", "A"},  {"Á", "A"},  {"Â", "A"}, {"Ã", "A"}, {"Ä", "Ae"}, {"Å", "A"},  {"Æ", "Ae"},
    {"Ç", "C"},    {"È", "E"},  {"É", "E"},  {"Ê", "E"}, {"Ë", "E"}, {"Í", "I"},  {"Î", "I"},  {"Ñ", "N"},
    {"Ó", "O"},    {"Ô", "O"},  {"Ö", "Oe"}, {"Ø", "O"}, {"Ú", "U"}, {"Û", "U"},  {"Ü", "Ue"}, {"Þ", "Th"},
    {"š", "s"},    {"ž", "z"},
});

}  // namespace

Glossary::Glossary() {
  for (const auto& row : table_rows("words/glossary.toml", "word")) {
    Word word{row.text("id"), {}, row.text("gloss"), row.texts_or_empty("forms"), false};
    word.name = word.forms.front();
    words_.push_back(std::move(word));
  }
}

std::vector<const Glossary::Word*> Glossary::first_used(std::string_view text) {
  std::vector<const Word*> out;
  const auto look = [&](std::string_view in) {
    for (auto& word : words_) {
      if (word.told) continue;
      if (!std::any_of(word.forms.begin(), word.forms.end(),
                       [&](const auto& form) { return stands_in(in, form); }))
        continue;
      word.told = true;
      out.push_back(&word);
    }
  };
  look(text);
  for (std::size_t i = 0; i < out.size(); ++i) look(out[i]->gloss);
  return out;
}

std::string to_ascii(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const auto lead = static_cast<unsigned char>(text.front());
    if (lead < 0x80) {
      out += text.front();
      text.remove_prefix(1);
      continue;
    }
    const auto* known = std::find_if(plain.begin(), plain.end(),
                                     [&](const Plain& p) { return text.substr(0, p.from.size()) == p.from; });
    if (known != plain.end()) {
      out += known->to;
      text.remove_prefix(known->from.size());
      continue;
    }
    out += '?';
    text.remove_prefix(1);
    while (!text.empty() && (static_cast<unsigned char>(text.front()) & 0xC0U) == 0x80U)
      text.remove_prefix(1);
  }
  return out;
}

}  // namespace skerry::words
