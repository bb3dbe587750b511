#include "contrast.hpp"

#include <fmt/format.h>

#include "options.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/os/files.hpp"

namespace skerry::cli {

namespace {

constexpr const char* things = "month=2027-08, r12=140, power=100, antenna=6 or hour=6,18";

int whole_hour(const std::string& text) {
  const double hour = number_of(text, "--contrast", 0, 23, "a whole UTC hour");
  if (hour != static_cast<int>(hour))
    refuse({"--contrast"}, "'" + text + "'", "a whole UTC hour from 0 to 23");
  return static_cast<int>(hour);
}

}  // namespace

words::Contrast contrast_of(const circuit::PathQuestion& question, const std::string& asked) {
  using words::Contrasted;
  const auto sign = asked.find('=');
  if (sign == std::string::npos) refuse({"--contrast"}, "'" + one_line(asked) + "'", things);
  const auto thing = asked.substr(0, sign), value = asked.substr(sign + 1);
  words::Contrast out;
  auto other = question;
  if (thing == "month") {
    out.thing = Contrasted::month;
    // The Sun's activity stays as it is: the season alone changes.
    other.climate.day = middle_of(must(parse_month(value, {"--contrast"})));
  } else if (thing == "r12") {
    out.thing = Contrasted::sun;
    other.climate.r12 = ionosphere::R12(number_of(value, files::field("trip", "r12"), "--contrast"));
  } else if (thing == "power") {
    out.thing = Contrasted::power;
    other.from.power_w = number_of(value, files::field("question", "power_w"), "--contrast");
  } else if (thing == "antenna") {
    out.thing = Contrasted::antenna;
    other.from.gain_dbi = number_of(value, files::field("question", "gain_from_dbi"), "--contrast");
  } else if (thing == "hour") {
    out.thing = Contrasted::hour;
    const auto hours = split_list(value, "--contrast");
    if (hours.size() != 2) refuse({"--contrast"}, "'" + one_line(asked) + "'", "two hours: hour=6,18");
    out.hours = std::array{whole_hour(hours[0]), whole_hour(hours[1])};
    if ((*out.hours)[0] == (*out.hours)[1])
      refuse({"--contrast"}, "'" + one_line(asked) + "'", "two different hours");
  } else {
    refuse({"--contrast"}, "'" + one_line(asked) + "'", things,
           did_you_mean(thing, std::vector<std::string>{"month", "r12", "power", "antenna", "hour"}));
  }
  out.before = circuit::answer(question);
  out.after = out.hours ? out.before : circuit::answer(other);
  if (!out.hours && words::contrast_label(out, false) == words::contrast_label(out, true))
    refuse({"--contrast"}, "'" + one_line(asked) + "'", "another value than the question's own");
  return out;
}

void write_pictures(const std::string& folder, const std::vector<page::NamedPicture>& pictures) {
  const auto made = os::make_folder(folder, {"--pictures"});
  if (!made) give_up(made.error());
  for (const auto& picture : pictures)
    write_whole((os::path_of(folder) / picture.name).string(), picture.svg);
}

}  // namespace skerry::cli
