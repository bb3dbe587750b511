// The causes of each band's verdict on the page, and the glossary that their words lead to.

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/explain.hpp"

namespace skerry::page {

namespace {

std::string anchor(const std::string& id) {
  return "word-" + id;
}

/// The first place where one of the word's forms stands as a whole word; npos where none does.
std::size_t find_word(const std::string& text, const words::Glossary::Word& word, std::size_t& length) {
  const auto part = [](char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_'; };
  std::size_t first = std::string::npos;
  for (const auto& form : word.forms) {
    for (auto at = text.find(form); at != std::string::npos; at = text.find(form, at + 1)) {
      const auto end = at + form.size();
      if ((at > 0 && part(text[at - 1])) || (end < text.size() && part(text[end]))) continue;
      // Of two forms at one place the longer: "reflection points" before "reflection point".
      if (at < first || (at == first && form.size() > length)) {
        first = at;
        length = form.size();
      }
      break;
    }
  }
  return first;
}

/// The sentence as markup; words told for the first time lead to the glossary.
std::string linked(const std::string& sentence, words::Glossary& glossary) {
  const std::string text = plain(sentence);
  struct Link {
    std::size_t at, length;
    std::string id;
  };
  std::vector<Link> links;
  for (const auto* word : glossary.first_used(text)) {
    Link link{0, 0, word->id};
    link.at = find_word(text, *word, link.length);
    // Words that only another word's gloss uses have no place here.
    if (link.at != std::string::npos) links.push_back(link);
  }
  std::sort(links.begin(), links.end(), [](const Link& a, const Link& b) { return a.at < b.at; });
  std::string out;
  std::size_t done = 0;
  for (const auto& link : links) {
    if (link.at < done) continue;  // inside a longer word
    out += markup(text.substr(done, link.at - done));
    out += fmt::format("<a class=\"word\" href=\"#{}\">{}</a>", anchor(link.id),
                       markup(text.substr(link.at, link.length)));
    done = link.at + link.length;
  }
  return out + markup(text.substr(done));
}

std::vector<const circuit::BandExplanation*> best_first(const words::ExplainSheet& sheet) {
  std::vector<const circuit::BandExplanation*> out;
  for (const auto& band : sheet.bands) out.push_back(&band);
  std::stable_sort(out.begin(), out.end(), [](const auto* a, const auto* b) { return a->days > b->days; });
  return out;
}

/// "works on 20m, 15m; now and then on 17m": what the heading of a region says before it is opened.
std::string summary(const words::ExplainSheet& sheet) {
  std::string works, sometimes;
  for (const auto* e : best_first(sheet)) {
    auto& list = e->verdict == circuit::Verdict::works ? works : sometimes;
    if (e->verdict != circuit::Verdict::works && e->verdict != circuit::Verdict::sometimes) continue;
    list += (list.empty() ? "" : ", ") + e->band;
  }
  if (works.empty() && sometimes.empty()) return caption::nothing_works;
  return (works.empty() ? std::string() : caption::works_on + works) +
         (works.empty() || sometimes.empty() ? "" : "; ") +
         (sometimes.empty() ? std::string() : caption::sometimes_on + sometimes);
}

std::string band_block(const words::ExplainSheet& sheet, const circuit::BandExplanation& e,
                       words::Glossary& glossary) {
  const auto sentences = words::explain_sentences(sheet, e);
  std::string out =
      "<p class=\"verdictline\">" + linked(sentences.front(), glossary) + "</p><ol class=\"chain\">";
  for (std::size_t i = 1; i < sentences.size(); ++i) out += "<li>" + linked(sentences[i], glossary) + "</li>";
  return out + "</ol>";
}

}  // namespace

std::string words_html(const kit::Trip& trip, const std::vector<PlainWords>& words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const auto& one = words[i];
    const auto& site = nth(trip.sites, one.site).name;
    const auto& region = nth(trip.targets, one.target).region.name;
    words::Glossary glossary;
    out += fmt::format("<details class=\"why\"{}><summary><bdi>{}</bdi>{}: {}</summary>",
                       i == 0 ? " open" : "", markup(region),
                       trip.sites.size() > 1 ? fmt::format(caption::from_site, bdi(site)) : std::string(),
                       markup(summary(one.sheet)));
    out += "<p class=\"fine\">" +
           fmt::format(caption::two_ends, markup(one.sheet.from_name), markup(one.sheet.to_name)) + "</p>";
    for (const auto* e : best_first(one.sheet)) out += band_block(one.sheet, *e, glossary);
    out += "</details>\n";
  }
  return out;
}

std::string glossary_html(const std::vector<PlainWords>& words) {
  if (words.empty()) return {};
  words::Glossary glossary;
  std::vector<const words::Glossary::Word*> used;
  for (const auto& one : words) {
    for (const auto& e : one.sheet.bands) {
      for (const auto& sentence : words::explain_sentences(one.sheet, e)) {
        for (const auto* word : glossary.first_used(sentence)) used.push_back(word);
      }
    }
  }
  std::sort(used.begin(), used.end(), [](const auto* a, const auto* b) { return a->name < b->name; });
  std::string out = "<dl class=\"glossary\">";
  for (const auto* word : used) {
    out += fmt::format("<dt id=\"{}\">{}</dt><dd>{}</dd>", anchor(word->id), markup(word->name),
                       markup(word->gloss));
  }
  return out + "</dl>";
}

}  // namespace skerry::page
