#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <istream>
#include <optional>
#include <ostream>

#include "options.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/batch.hpp"
#include "skerry/forms/path_columns.hpp"
#include "skerry/os/progress.hpp"

namespace skerry::cli {

namespace {

// Judgement: lines answered together. Enough to keep the cores busy; all answers of a block are kept until
// its last is done (about 40 kB each for all hours and bands).
constexpr std::size_t block_lines = 256;

struct Line {
  std::string text;
  std::size_t number = 0;
};

/// Lines as they arrive: a block ends where the input has nothing more at once, so that somebody who waits
/// for each answer before asking again is not kept waiting. Memory is bounded whatever arrives.
class Lines {
 public:
  explicit Lines(std::istream& in) : in_(in) {}

  /// Fills `block`; false at the end of the input.
  bool next_block(std::vector<Line>& block) {
    block.clear();
    while (block.size() < block_lines) {
      if (at_ == have_) {
        if (!block.empty() && in_.rdbuf()->in_avail() <= 0) return true;
        if (!refill()) {
          if (!current_.empty() || started_) finish(block);
          return !block.empty();
        }
      }
      const auto begin = buffer_.begin() + static_cast<std::ptrdiff_t>(at_);
      const auto limit = buffer_.begin() + static_cast<std::ptrdiff_t>(have_);
      const auto end = std::find(begin, limit, '\n');
      // One byte over the limit is kept, which tells the reader that the line was longer.
      const auto room = static_cast<std::ptrdiff_t>(engine::most_line_bytes + 1 - current_.size());
      current_.append(begin, begin + std::min(room, end - begin));
      started_ = started_ || end != begin;
      at_ = static_cast<std::size_t>(end - buffer_.begin());
      if (end == limit) continue;
      ++at_;
      finish(block);
    }
    return true;
  }

 private:
  bool refill() {
    at_ = have_ = 0;
    if (in_.peek() == std::istream::traits_type::eof()) return false;
    const auto waiting =
        std::clamp<std::streamsize>(in_.rdbuf()->in_avail(), 1, static_cast<std::streamsize>(buffer_.size()));
    in_.read(buffer_.data(), waiting);
    have_ = static_cast<std::size_t>(in_.gcount());
    return have_ > 0;
  }
  void finish(std::vector<Line>& block) {
    ++number_;
    started_ = false;
    if (!trim(current_).empty()) block.push_back({current_, number_});
    current_.clear();
  }

  std::istream& in_;
  std::array<char, 65536> buffer_{};
  std::size_t at_ = 0, have_ = 0, number_ = 0;
  std::string current_;
  bool started_ = false;  ///< something of the current line has been seen
};

struct BatchOptions {
  std::string fields, trips;
};

/// What is written.
struct Table {
  std::optional<forms::PathTable> paths;
  std::optional<forms::PackTable> packs;
  [[nodiscard]] bool any() const { return paths || packs; }
  [[nodiscard]] std::string head() const { return paths ? paths->head() : packs ? packs->head() : ""; }
};

/// "id,utc_hour,both_days_in_ten", "id,reach,carry" or none: columns of paths, else of trips.
Table table_of(const std::string& fields) {
  Table out;
  if (fields.empty()) return out;
  const auto names = split_list(fields, "--fields");
  const auto stranger = [&](const std::vector<std::string>& known) {
    return std::find_if(names.begin(), names.end(), [&](const std::string& name) {
      return std::find(known.begin(), known.end(), name) == known.end();
    });
  };
  const auto paths = forms::path_column_names();
  const auto& packs = forms::pack_column_names();
  if (const auto wrong = stranger(paths); wrong == names.end()) {
    out.paths.emplace(names);
  } else if (stranger(packs) == names.end()) {
    out.packs.emplace(names);
  } else {
    // Of the kind that the first name is of.
    const bool of_trips = stranger(paths) == names.begin() && stranger(packs) != names.begin();
    const auto& known = of_trips ? packs : paths;
    const auto& name = *stranger(known);
    refuse({"--fields"}, "'" + one_line(name) + "'",
           fmt::format("some of: {}{}", fmt::join(known, ", "),
                       of_trips ? "" : fmt::format("; or of trips: {}", fmt::join(packs, ", "))),
           did_you_mean(name, known));
  }
  return out;
}

void run_batch(const BatchOptions& o, World& world) {
  const auto table = table_of(o.fields);
  world.out << table.head();
  const engine::LineForm form{table.paths ? &*table.paths : nullptr, table.packs ? &*table.packs : nullptr,
                              trips_in(o.trips)};
  Lines lines(world.in);
  std::vector<Line> block;
  struct Answer {
    std::string text;
    bool good = false;
  };
  std::vector<Answer> answers;
  std::size_t given = 0, wrong = 0, first_wrong = 0;
  while (lines.next_block(block)) {
    answers.assign(block.size(), {});
    parallel_for(block.size(), 1, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i)
        answers[i].text = engine::answer_line(block[i].text, block[i].number, form, &answers[i].good);
    });
    // Two writers on one screen would mix their lines.
    if (world.out_is_terminal && world.progress != nullptr) world.progress->end();
    for (std::size_t i = 0; i < answers.size(); ++i) {
      const bool good = answers[i].good;
      // A table has no room for what is wrong with a line.
      (good || !table.any() ? world.out : world.err << "skerry: ") << answers[i].text;
      if (!good && wrong++ == 0) first_wrong = block[i].number;
    }
    given += answers.size();
    if (world.progress != nullptr) world.progress->count(static_cast<long>(given));
    if (world.flush && !world.flush()) return;  // the reader has gone away
  }
  if (world.in.bad()) {
    Error error;
    error.where.file = "standard input";
    error.found = "an error while reading";
    error.accepted = "readable text";
    give_up(std::move(error));
  }
  if (wrong > 0)
    refuse({"standard input"},
           fmt::format("{} of {} lines that could not be answered, the first line {}", wrong, given,
                       first_wrong),
           "questions as in 'skerry batch --help'",
           table.any() ? "" : "each says what is wrong in its place");
}

}  // namespace

Command add_batch(CLI::App& app) {
  auto options = std::make_shared<BatchOptions>();
  auto* sub = app.add_subcommand(
      "batch", "many paths or trips: one JSON question a line in, one JSON answer a line out");
  auto columns = forms::path_column_names();
  for (const auto& name : forms::pack_column_names()) columns.push_back(name);
  offers(sub->add_option(
                "--fields", options->fields,
                fmt::format(
                    "instead of JSON a table in CSV, a line for each way, hour and frequency, of these "
                    "columns: {}; or a line for each trip, of these: {}",
                    fmt::join(forms::path_column_names(), ", "), fmt::join(forms::pack_column_names(), ", ")))
             ->type_name("LIST"),
         columns, true);
  sub->add_option("--trips", options->trips, "lines may name trip files in this folder or below")
      ->type_name("FOLDER");
  sub->footer(
      "Reads standard input to its end; answers come in the order of the questions and carry their \"id\". "
      "Lines with nothing\n"
      "but blanks are passed over. A line that cannot be answered gives {\"error\": ..., \"line\": N, ...} "
      "and the run goes on;\n"
      "at its end their number is told and the exit code is 2 (1: standard input cannot be read).\n"
      "After a stop: as many answers as questions are done, so go on with 'tail -n +$(($(wc -l < answers) + 1)) "
      "questions'.\n"
      "\n"
      "Question: \"from\", \"to\" (text as in 'skerry path', or {\"lat_deg\", \"lon_deg\"}), \"month\" or "
      "\"date\"; and if wanted\n"
      "\"id\" (anything), \"r12\" | \"ssn_v2\" | \"f107\", \"bands\" and \"mhz\" (lists), \"hours\" (list), "
      "\"way\" (short, long, both),\n"
      "\"mode\", \"power_w\", \"to_power_w\", \"gain_from_dbi\", \"gain_to_dbi\", \"noise_from\", "
      "\"noise_to\", \"noise_figure_db\",\n"
      "\"skyline_deg\", \"skyline_km\", \"fof2\" (list of \"MHZ@PLACE@HH:MM\"), \"maps\", \"absorption\", \"ground_loss\", "
      "\"want_days\", \"modes\" (true: each mode "
      "with its losses).\n"
      "Answer: skerry.batch/1, the keys of 'skerry path -f json'.\n"
      "\n"
      "What to pack: \"do\": \"pack\", \"trip\" (a trip file's text, or with --trips the name of one); and if wanted \"id\",\n"
      "\"set\" ({\"power_w\": 5, \"r12\": 90, \"date\": \"2027-02-14\"}), \"mass_limit_kg\", \"tolerance_percent\", \"drop\" and "
      "\"add\" (lists of ids),\n"
      "\"files\" ({NAME: TEXT} that the trip names), \"es\", \"fof2\".\n"
      "Answer: skerry.pack/1, the keys of 'skerry pack -f json'.\n"
      "\n"
      "Example: echo "
      "'{\"id\":1,\"from\":\"-19.70,63.43\",\"to\":\"JN45\",\"month\":\"2027-02\",\"bands\":[\"20m\"]}' | "
      "skerry batch");
  return {sub, [options](World& world) { run_batch(*options, world); }};
}

}  // namespace skerry::cli
