#include "options.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cassert>
#include <chrono>
#include <sstream>

#include "forecast.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/files/told_activity.hpp"
#include "skerry/geodesy/apart.hpp"
#include "skerry/ionosphere/measured.hpp"
#include "skerry/os/ending.hpp"
#include "skerry/os/files.hpp"
#include "skerry/os/surroundings.hpp"
#include "skerry/words/cautions.hpp"

namespace skerry::cli {

void refuse(Where where, std::string found, std::string accepted, std::string mend) {
  Stop stop;
  stop.errors.push_back(Error{std::move(where), std::move(found), std::move(accepted), std::move(mend)});
  throw stop;
}

void give_up(Error error) {
  Stop stop;
  stop.failure = true;
  stop.errors.push_back(std::move(error));
  throw stop;
}

namespace {

/// "--eps-r" of the key "eps_r".
std::string option_of(std::string key) {
  std::replace(key.begin(), key.end(), '_', '-');
  return "--" + key;
}

}  // namespace

Error by_option(Error error) {
  error.where.file = option_of(std::move(error.where.file));
  return error;
}

std::vector<const CLI::App*> commands_of(const CLI::App& app) {
  return app.get_subcommands([](const CLI::App*) { return true; });
}
std::vector<CLI::App*> commands_of(CLI::App& app) {
  return app.get_subcommands([](CLI::App*) { return true; });
}

std::string either(const std::vector<std::string>& words) {
  if (words.size() < 2) return fmt::format("{}", fmt::join(words, ""));
  return fmt::format("{} or {}", fmt::join(words.begin(), words.end() - 1, ", "), words.back());
}

// The argument parser keeps nothing of ours with an option but its validators: the words are the name of one.
CLI::Option* takes(CLI::Option* option, const std::vector<std::string>& words) {
  const auto look = [option, words](const std::string& typed) {
    if (std::find(words.begin(), words.end(), trim(typed)) == words.end())
      refuse({option->get_name()}, "'" + one_line(typed) + "'", either(words), did_you_mean(typed, words));
    return std::string{};
  };
  return option->check(CLI::Validator(look, "", fmt::format("only {}", fmt::join(words, " "))));
}

CLI::Option* offers(CLI::Option* option, const std::vector<std::string>& words, bool several) {
  const auto pass = [](const std::string&) { return std::string{}; };
  return option->check(
      CLI::Validator(pass, "", fmt::format("{} {}", several ? "several" : "one", fmt::join(words, " "))));
}

Offered offered(CLI::Option& option) {
  Offered out;
  std::istringstream name;
  try {
    name.str(option.get_validator()->get_name());
  } catch (const CLI::OptionNotFound&) {
    return out;
  }
  std::string kind;
  name >> kind;
  out.only = kind == "only";
  out.several = kind == "several";
  for (std::string word; name >> word;) out.words.push_back(word);
  return out;
}

void add_format(CLI::App& app, Common& c, const std::vector<std::string>& words) {
  takes(app.add_option("-f,--format", c.format, either(words))->type_name("FORMAT")->default_str("text"),
        words);
  add_output(app, c);
}

void add_named_format(CLI::App& app, Common& c, const std::vector<std::string>& words) {
  c.format.clear();
  takes(
      app.add_option("-f,--format", c.format, either(words) + "; without it, by the name of the output file")
          ->type_name("FORMAT"),
      words);
  add_output(app, c);
}

void add_output(CLI::App& app, Common& c) {
  app.add_option_function<std::string>(
         "-o,--output", [&c](const std::string& name) { c.output = name == "-" ? std::string{} : name; },
         "write to this file instead of the screen")
      ->type_name("FILE");
}

void add_when(CLI::App& app, Common& c) {
  app.add_option("--date", c.date, "day, as 2027-02-14; without it and --month: today")->type_name("DATE");
  app.add_option("--month", c.month, "month, as 2027-02, taken at its middle")->type_name("MONTH");
}

void add_activity(CLI::App& app, Common& c) {
  const auto add = [&](const char* option, std::string& value, const char* key, const char* type,
                       const char* more = "") {
    const auto& f = files::field("trip", key);
    app.add_option(option, value,
                   fmt::format("{}, {:g} to {:g}{}", f.help, f.range.least, f.range.most, more))
        ->type_name(type);
  };
  add("--r12", c.r12, "r12", "N", "; without any: the forecast that 'skerry doctor' names");
  add("--ssn-v2", c.ssn_v2, "ssn_v2", "N");
  add("--f107", c.f107, "f107", "N");
  app.add_option("--forecast", c.forecast_file,
                 "a table of the Sun's numbers: the agencies' JSON or text, as 'forecast import' takes it")
      ->type_name("FILE");
  takes(app.add_option("--maps", c.maps, "foF2 maps: ccir or ursi")->type_name("SET")->default_str("ccir"),
        {"ccir", "ursi"});
  add("--field-epoch", c.field_epoch, "field_epoch", "YEAR", "; default 2020");
}

void add_es(CLI::App& app, Common& c) {
  takes(app.add_option("--es", c.es, "sporadic E: on or off")->type_name("WORD")->default_str("on"),
        {"on", "off"});
}

void add_measured(CLI::App& app, Common& c) {
  app.add_option(
         "--fof2", c.fof2,
         "foF2 measured on that day, as 6.2@PLACE@14:30 (UTC; without the time: now); may stand several "
         "times. Scales the maps around it, half as much 1000 km or 4 h away")
      ->type_name("MHZ@PLACE@TIME")
      ->allow_extra_args(false);
}

Day today() {
  return day_by(os::now());
}

Day day_by(UtcTime clock) {
  const Day day{std::chrono::floor<std::chrono::days>(clock)};
  const int year{day.year()};
  if (year < first_year || year > last_year)
    give_up(Error{Where{"the system's clock"}, fmt::format("the year {}", year),
                  fmt::format("{} to {}", first_year, last_year),
                  "set it, or say the day where one is asked for"});
  return day;
}

std::vector<ionosphere::MeasuredFof2> measured_of(const Common& c, Day day) {
  std::vector<ionosphere::MeasuredFof2> out;
  if (c.fof2.size() > ionosphere::most_measured)
    refuse({"--fof2"}, fmt::format("{} readings", c.fof2.size()),
           fmt::format("at most {}", ionosphere::most_measured));
  if (c.fof2.empty()) return out;
  const auto now = os::now();
  const bool is_today = day == today();
  for (const auto& text : c.fof2)
    out.push_back(must(ionosphere::parse_measured(
        text, is_today ? std::optional(utc_hour(now)) : std::nullopt, {"--fof2"})));
  return out;
}

Format format_of(const Common& c) {
  return c.format == "json" ? Format::json : c.format == "csv" ? Format::csv : Format::text;
}

std::size_t form_of(const Common& c, const std::vector<std::string>& names) {
  const auto dot = c.output.rfind('.');
  const auto name = !c.format.empty()          ? c.format
                    : dot == std::string::npos ? std::string{}
                                               : lower(c.output.substr(dot + 1));
  const auto found = std::find(names.begin(), names.end(), name);
  return found == names.end() ? 0 : static_cast<std::size_t>(found - names.begin());
}

Day day_of(const Common& c) {
  if (!c.date.empty() && !c.month.empty()) {
    refuse({"--date"}, "both --date and --month", "one of them");
  }
  if (!c.date.empty()) return must(parse_day(c.date, {"--date"}));
  if (!c.month.empty()) return middle_of(must(parse_month(c.month, {"--month"})));
  return today();
}

double number_of(const std::string& text, const std::string& option, double low, double high,
                 const char* what, const char* mend) {
  const auto value = to_number(trim(text));
  if (!value || *value < low || *value > high) {
    refuse({option}, "'" + std::string(trim(text)) + "'",
           fmt::format("{} from {:g} to {:g}", what, low, high), mend);
  }
  return *value;
}

double number_of(const std::string& text, const files::Field& field, std::string option) {
  assert(*field.noun != '\0');
  if (option.empty()) option = option_of(field.key);
  return number_of(text, option, field.range.least, field.range.most, field.noun, field.help);
}

std::vector<std::string> split_list(const std::string& text, const char* option) {
  std::vector<std::string> out;
  std::size_t from = 0;
  while (from <= text.size()) {
    const auto comma = std::min(text.find(',', from), text.size());
    const auto part = trim(std::string_view(text).substr(from, comma - from));
    if (part.empty()) refuse({option}, "'" + text + "'", "a list like 40m,20m without empty parts");
    out.emplace_back(part);
    from = comma + 1;
  }
  return out;
}

namespace {

/// What stands behind the option for that key of the Sun's activity.
const std::string& typed(const Common& c, std::string_view key) {
  return key == "r12" ? c.r12 : key == "ssn_v2" ? c.ssn_v2 : key == "f107" ? c.f107 : c.forecast_file;
}
files::ToldActivity told_activity(const Common& c) {
  return files::told_activity([&](const char* key) { return !typed(c, key).empty(); });
}

}  // namespace

ionosphere::Climate climate_of(const Common& c) {
  ionosphere::Climate climate;
  climate.day = day_of(c);
  const Month month{climate.day.year() / climate.day.month()};
  const auto told = told_activity(c);
  if (told.beside != nullptr)
    refuse({"--r12"}, "more than one measure of solar activity",
           "one of --r12, --ssn-v2, --f107, --forecast");
  if (told.index) {
    const double value = number_of(typed(c, told.key), files::field("trip", told.key));
    climate.r12 = ionosphere::told_activity(*told.index, value).r12;
  } else if (told.key != nullptr) {
    const auto text = must(os::read_file(c.forecast_file, ionosphere::most_forecast_bytes, {"--forecast"}));
    climate.r12 = must(ionosphere::forecast_from_file(text, month, {c.forecast_file})).r12;
  } else {
    climate.r12 = usual_activity(month).r12;
  }
  if (c.maps == "ursi") climate.maps = ionosphere::MapSet::ursi;
  if (!c.field_epoch.empty())
    climate.field_epoch = number_of(c.field_epoch, files::field("trip", "field_epoch"));
  climate.measured = measured_of(c, climate.day);
  return climate;
}

std::string activity_note(const Common& c) {
  if (told_activity(c).key != nullptr) return {};
  const Day day = day_of(c);
  return words::activity_note(usual_activity(Month{day.year() / day.month()}));
}

void check_apart(GeoPoint from, GeoPoint to, const char* argument) {
  must(geodesy::check_apart(from, to, {argument}, "the first"));
}

words::Style style_of(const World& world, const Common& common) {
  const bool screen = world.out_is_terminal && common.output.empty();
  words::Style style;
  style.colour = (screen && !world.no_colour) || (world.colour && common.output.empty());
  style.unicode = screen && world.utf8;
  style.ascii = world.ascii;
  style.columns = screen ? std::clamp(world.columns, 60, 200) : 100;
  return style;
}

void warn(const Warnings& warnings, World& world) {
  constexpr std::size_t most = 10;
  for (std::size_t i = 0; i < std::min(most, warnings.size()); ++i)
    world.err << "skerry: warning: " << warnings[i].to_line() << "\n";
  if (warnings.size() > most)
    world.err << fmt::format("skerry: warning: and {} more like these\n", warnings.size() - most);
}

void write(const std::string& text, const Common& c, World& world) {
  os::check_memory();
  if (!c.output.empty()) return write_whole(c.output, text);
  world.out << text;
}

void write_whole(const std::string& name, const std::string& content) {
  const auto written = os::write_file(name, written_out(content));
  if (!written) give_up(written.error());
}

}  // namespace skerry::cli
