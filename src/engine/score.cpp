#include "skerry/engine/score.hpp"

#include "alone.hpp"
#include "skerry/after/hour_table.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"

namespace skerry::engine {

namespace {

std::function<ionosphere::R12(Month)> activity_of(const ScoreAsk& ask) {
  if (!ask.r12) return {};
  return [r12 = ionosphere::R12(*ask.r12)](Month) { return r12; };
}

words::ScoreShown shown_of(const ScoreAsk& ask) {
  words::ScoreShown out;
  out.file = ask.file;
  out.activity = ask.r12 ? fmt::format("R12 {:g}", *ask.r12) : "built-in solar activity by month";
  out.mode = ask.mode.id;
  out.threshold_db = ask.mode.threshold_snr_db;
  out.bandwidth_hz = ask.mode.bandwidth_hz;
  return out;
}

after::SpotQuestion question_of(const ScoreAsk& ask) {
  after::SpotQuestion q;
  q.r12 = activity_of(ask);
  q.maps = ask.maps;
  q.mode = ask.mode;
  q.tx_gain_dbi = ask.tx_gain_dbi;
  q.rx_gain_dbi = ask.rx_gain_dbi;
  q.rx_noise = ask.rx_noise;
  q.noise_figure_db = ask.noise_figure_db;
  q.take_off = ask.take_off;
  q.most_silent = ask.most_silent;
  return q;
}

/// A table's scores in the format asked for.
template <class Table, class Score, class Text, class Json_, class Csv>
Checked<Scored> scored(Checked<Table> table, words::ScoreShown shown, Format format,
                       const words::Style& style, const Score& score, const Text& text, const Json_& json,
                       const Csv& csv) {
  if (!table) return tl::unexpected(table.error());
  shown.left_out = table->left_out.size();
  const auto scores = score(*table);
  if (!scores) return tl::unexpected(std::vector<Error>{scores.error()});
  Scored out{{}, std::move(table->left_out)};
  if (format == Format::json) out.text = json(*scores, shown);
  if (format == Format::csv) out.text = csv(*scores);
  if (format == Format::text) out.text = text(*scores, shown, style);
  return out;
}

}  // namespace

Checked<Scored> score(std::string_view csv, const ScoreAsk& ask, Format format, const words::Style& style) {
  using After = Result<after::SpotScores>;
  const auto shown = shown_of(ask);
  switch (ask.table) {
    case ScoreAsk::Table::ionosonde:
      return scored(
          after::read_sondes(csv, ask.file), shown, format, style,
          [&](const auto& table) -> Result<after::SondeScores> {
            return after::score_sondes(table, activity_of(ask), ask.maps);
          },
          words::sondes_text, forms::sondes_json, forms::sondes_csv);
    case ScoreAsk::Table::hours:
      return scored(
          after::read_hour_table(csv, ask.file), shown, format, style,
          [&](const auto& table) -> After {
            auto scores = after::score_hours(table, question_of(ask), ask.least_days);
            if (scores.spots == 0)
              return fail({"least_days"}, fmt::format("no row with {:g} active days", ask.least_days),
                          "fewer days");
            return scores;
          },
          words::hours_text, forms::score_json, forms::score_csv);
    case ScoreAsk::Table::spots:
      break;
  }
  return scored(
      after::read_spots(csv, ask.file), shown, format, style,
      [&](const auto& table) -> After { return after::score_spots(table, question_of(ask)); },
      words::score_text, forms::score_json, forms::score_csv);
}

Checked<Said> score_of(const Json& message) {
  std::vector<Error> errors;
  Reader r(message, errors);
  r.know({"do", "id", "format", "columns", "spots", "hours", "ionosonde", "name", "r12", "maps", "mode",
          "threshold_db", "tx_gain_dbi", "rx_gain_dbi", "rx_noise", "noise_figure_db", "most_silent",
          "least_days", "take_off"});
  const auto shape = shape_of(r);
  ScoreAsk ask;
  const char* table = nullptr;
  constexpr std::array names{"spots", "hours", "ionosonde"};
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (r.find(names[i]) == nullptr) continue;
    if (table != nullptr) r.wrong(names[i], "more than one table", "one of spots, hours, ionosonde");
    table = names[i];
    ask.table = static_cast<ScoreAsk::Table>(i);
  }
  if (table == nullptr) r.wrong("spots", "no table", "one of spots, hours, ionosonde");
  ask.file = text(r, "name", table == nullptr ? "" : table);
  const auto maybe = [&](const char* key, const files::Range& range, std::optional<double>& into) {
    if (double value = 0; r.number(key, range, value)) into = value;
  };
  if (double value = 0; r.number(files::field("trip", "r12"), value)) ask.r12 = value;
  std::size_t maps = 0;
  r.word("maps", {"ccir", "ursi"}, maps);
  if (maps == 1) ask.maps = ionosphere::MapSet::ursi;
  r.take(noise::find_mode(text(r, "mode", "wspr"), {"mode"}), ask.mode);
  r.number("threshold_db", {-60, 60, "dB"}, ask.mode.threshold_snr_db);
  maybe("tx_gain_dbi", {-40, 30, "dBi"}, ask.tx_gain_dbi);
  maybe("rx_gain_dbi", {-40, 30, "dBi"}, ask.rx_gain_dbi);
  r.take(noise::parse_environment(text(r, "rx_noise", "residential"), {"rx_noise"}), ask.rx_noise);
  r.number("noise_figure_db", ask.noise_figure_db);
  double most_silent = static_cast<double>(ask.most_silent);
  r.number("most_silent", {1000, 1e8, "cases", true}, most_silent);
  ask.most_silent = static_cast<std::size_t>(most_silent);
  r.number("least_days", {1, 31, "days"}, ask.least_days);
  std::size_t take_off = 0;
  r.word("take_off", {"mirror", "traced"}, take_off);
  if (take_off == 1) ask.take_off = circuit::TakeOff::traced;
  const auto csv = table == nullptr ? std::string{} : text(r, table);
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  auto out = score(csv, ask, shape.format, shape.style);
  if (!out) return tl::unexpected(std::move(out.error()));
  Said said{std::move(out->text), {}};
  for (const auto& one : out->left_out.told()) said.warnings.push_back(one.to_line());
  return said;
}

}  // namespace skerry::engine
