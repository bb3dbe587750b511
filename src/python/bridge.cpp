// The engine as a Python module: text in, text out, and numbers as arrays that own what the engine filled.
// src/python/skerry/__init__.py is what its users see.

#include <nanobind/nanobind.h>
#include <nanobind/ndarray.h>
#include <nanobind/stl/optional.h>
#include <nanobind/stl/string.h>
#include <nanobind/stl/string_view.h>
#include <nanobind/stl/vector.h>

#include <chrono>
#include <exception>
#include <iostream>
#include <limits>
#include <memory>
#include <mutex>
#include <sstream>

#include "skerry/circuit/coverage.hpp"
#include "skerry/cli/run.hpp"
#include "skerry/cli/trip_files.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/batch.hpp"
#include "skerry/engine/session.hpp"
#include "skerry/engine/sky.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/os/ending.hpp"
#include "skerry/os/surroundings.hpp"

namespace nb = nanobind;
using namespace nb::literals;

namespace {

/// Tells Python how far the work is, from any thread, and remembers whether it wants the work to end: its callback
/// said False or raised, or Ctrl-C was pressed. Used without the interpreter's lock.
class Watcher {
 public:
  explicit Watcher(nb::object progress) : progress_(std::move(progress)) {}
  /// True: go on. No more often than ten times a second, unless it is the end (1).
  bool tell(double value) {
    const std::lock_guard guard(guard_);
    if (ended_) return false;
    const auto now = Clock::now();
    if (value < 1 && now - last_ < std::chrono::milliseconds(100)) return true;
    last_ = now;
    const nb::gil_scoped_acquire lock;
    try {
      if (PyErr_CheckSignals() != 0) throw nb::python_error();
      if (!progress_.is_none() && progress_(value).is(nb::handle(Py_False))) ended_ = true;
    } catch (...) {
      problem_ = std::current_exception();
      ended_ = true;
    }
    return !ended_;
  }
  /// With the lock again: what was raised meanwhile.
  void pass_on() const {
    if (problem_) std::rethrow_exception(problem_);
  }

 private:
  using Clock = std::chrono::steady_clock;
  nb::object progress_;
  std::mutex guard_;
  Clock::time_point last_ = Clock::now();
  bool ended_ = false;
  std::exception_ptr problem_;
};

/// A conversation of one message. `file`: the trip file, whose folder holds what it names; none: the message holds it.
std::string answer(std::string_view message, const std::optional<std::string>& file, bool outside,
                   std::optional<double> seconds, nb::object progress) {
  Watcher watcher(std::move(progress));
  std::string out;
  {
    const nb::gil_scoped_release free;
    const auto begin = std::chrono::steady_clock::now();
    skerry::engine::Surroundings around;
    if (file) around = skerry::cli::beside(*file, outside);
    around.most_bytes = std::size_t{1} << 30U;
    around.stop.now = [&] {
      const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - begin;
      return !watcher.tell(-passed.count()) || (seconds && passed.count() > *seconds);
    };
    out = skerry::engine::Session(std::move(around)).answer(message);
  }
  watcher.pass_on();
  return out;
}

nb::list told(const std::vector<skerry::Error>& errors) {
  nb::list out;
  for (const auto& error : errors) {
    nb::dict one;
    one["text"] = error.to_line();
    one["where"] = error.where.file;
    one["line"] = error.where.line;
    one["column"] = error.where.column;
    one["found"] = error.found;
    one["accepted"] = error.accepted;
    one["mend"] = error.mend;
    out.append(std::move(one));
  }
  return out;
}

/// An array of these numbers, which belong to it from now on.
template <class T>
nb::object array(std::unique_ptr<T[]> values, std::initializer_list<std::size_t> shape) {
  T* const data = values.release();
  const nb::capsule owner(data, [](void* p) noexcept { delete[] static_cast<T*>(p); });
  return nb::cast(nb::ndarray<nb::numpy, T>(data, shape.size(), shape.begin(), owner));
}
template <class T>
nb::object array(const std::vector<T>& values) {
  auto copy = std::make_unique<T[]>(values.size());
  std::copy(values.begin(), values.end(), copy.get());
  return array(std::move(copy), {values.size()});
}

/// One number of each cell, hour and frequency; the arrays of a grid.
struct Field {
  const char* name;
  float (*of)(const skerry::circuit::CoverageValue&);
};
constexpr float closed = std::numeric_limits<float>::quiet_NaN();
constexpr std::array fields{
    Field{"snr_db", [](const auto& v) { return v.open ? v.snr_db : closed; }},
    Field{"return_snr_db", [](const auto& v) { return v.open ? v.return_snr_db : closed; }},
    Field{"days_in_ten", [](const auto& v) { return v.open ? v.days_in_ten : 0; }},
    Field{"return_days_in_ten", [](const auto& v) { return v.open ? v.return_days_in_ten : 0; }},
    Field{"both_days_in_ten", [](const auto& v) { return v.open ? v.both_days_in_ten() : 0; }},
    Field{"long_way", [](const auto& v) { return v.open && v.long_way ? 1.0F : 0.0F; }},
};

/// The grid as a dictionary; a list of mistakes where the question has any; None where `progress` ended it.
nb::object coverage(std::string_view message, const std::vector<std::string>& wanted, nb::object progress) {
  const auto ask = skerry::engine::read_coverage(message);
  if (!ask) return told(ask.error());
  const auto& q = ask->question;
  const auto rows = static_cast<std::size_t>(q.grid.rows()),
             columns = static_cast<std::size_t>(q.grid.columns());
  const std::size_t cells = q.grid.cells(), panels = q.hours.size() * q.frequencies.size();
  std::vector<std::pair<Field, std::unique_ptr<float[]>>> filled;
  for (const auto& field : fields) {
    if (std::find(wanted.begin(), wanted.end(), field.name) != wanted.end())
      filled.emplace_back(field, std::make_unique<float[]>(cells * panels));
  }
  Watcher watcher(std::move(progress));
  skerry::circuit::CoverageShare share(q, ask->want_days);
  bool whole = false;
  {
    const nb::gil_scoped_release free;
    whole = skerry::circuit::coverage(q, [&](const skerry::circuit::CoveragePart& part) {
      share.add(part);
      for (auto& [field, values] : filled) {
        for (std::size_t c = 0; c < part.cells; ++c) {
          for (std::size_t p = 0; p < panels; ++p)
            values[p * cells + part.first_cell + c] = field.of(part.values[c * panels + p]);
        }
      }
      return watcher.tell(static_cast<double>(part.first_cell + part.cells) / static_cast<double>(cells));
    });
  }
  watcher.pass_on();
  if (!whole) return nb::none();
  nb::dict out;
  for (auto& [field, values] : filled)
    out[field.name] = array(std::move(values), {q.hours.size(), q.frequencies.size(), rows, columns});
  std::vector<double> lat, lon;
  for (std::size_t r = 0; r < rows; ++r) lat.push_back(q.grid.centre(r * columns).lat_deg);
  for (std::size_t c = 0; c < columns; ++c) lon.push_back(q.grid.centre(c).lon_deg);
  nb::list bands;
  std::vector<double> mhz;
  for (const auto& f : q.frequencies) {
    bands.append(f.band.empty() ? nb::object(nb::none()) : nb::object(nb::cast(f.band)));
    mhz.push_back(f.mhz);
  }
  out["lat_deg"] = array(lat);
  out["lon_deg"] = array(lon);
  out["mhz"] = array(mhz);
  out["utc_hour"] = array(q.hours);
  out["band"] = std::move(bands);
  out["map"] = skerry::forms::map_json(q, share, ask->want_days, ask->named);
  out["warnings"] = nb::cast(ask->warnings);
  return out;
}

/// What `skerry batch` answers to each of these lines, without line breaks.
/// `trips`: the folder whose trip files they may name.
std::vector<std::string> lines(const std::vector<std::string>& questions,
                               const std::optional<std::string>& trips) {
  const nb::gil_scoped_release free;
  skerry::engine::LineForm form;
  form.trips = skerry::cli::trips_in(trips.value_or(""), false);
  std::vector<std::string> out(questions.size());
  skerry::parallel_for(questions.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      out[i] = skerry::engine::answer_line(questions[i], i + 1, form);
      out[i].pop_back();
    }
  });
  return out;
}

/// Answers as numbers, a row for each way, hour and frequency; those of one question.
struct Rows {
  std::vector<std::int8_t> long_way, utc_hour;
  std::vector<double> mhz;
  std::vector<float> basic_muf_mhz, snr_db, return_snr_db, days_in_ten, return_days_in_ten, both_days_in_ten;
  std::string error;  ///< a line of `batch`; empty: answered
};
Rows rows_of(std::string_view line, std::size_t number) {
  Rows out;
  std::string id;
  auto request = skerry::engine::read_request(line, id);
  if (!request) {
    out.error = skerry::engine::error_line(request.error(), number, id);
    out.error.pop_back();
    return out;
  }
  request->question.wanted = {false, false, false};
  const auto answer = skerry::circuit::answer(request->question);
  for (const auto& way : answer.ways) {
    for (int h = 0; h < 24; ++h) {
      if (!skerry::nth(request->options.hours, h)) continue;
      const auto& hour = skerry::nth(way.hours, h);
      for (std::size_t f = 0; f < hour.bands.size(); ++f) {
        const auto& b = hour.bands[f];
        const auto f32 = [](double x) { return static_cast<float>(x); };
        out.long_way.push_back(way.path.way == skerry::geodesy::Way::long_way ? 1 : 0);
        out.utc_hour.push_back(static_cast<std::int8_t>(h));
        out.mhz.push_back(request->question.frequencies[f].mhz);
        out.basic_muf_mhz.push_back(f32(hour.muf.basic_mhz));
        out.snr_db.push_back(b.any() ? f32(b.there.snr_db) : closed);
        out.return_snr_db.push_back(b.any() ? f32(b.back.snr_db) : closed);
        out.days_in_ten.push_back(f32(b.there.days_in_ten));
        out.return_days_in_ten.push_back(f32(b.back.days_in_ten));
        out.both_days_in_ten.push_back(f32(b.both_days_in_ten));
      }
    }
  }
  return out;
}

nb::dict columns(const std::vector<std::string>& questions) {
  std::vector<Rows> answers(questions.size());
  {
    const nb::gil_scoped_release free;
    skerry::parallel_for(questions.size(), 1, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i) answers[i] = rows_of(questions[i], i + 1);
    });
  }
  std::size_t total = 0;
  for (const auto& one : answers) total += one.mhz.size();
  const auto joined = [&]<class T>(std::vector<T> Rows::*column) {
    auto values = std::make_unique<T[]>(total);
    T* at = values.get();
    for (const auto& one : answers) at = std::copy((one.*column).begin(), (one.*column).end(), at);
    return array(std::move(values), {total});
  };
  auto question = std::make_unique<std::int64_t[]>(total);
  nb::list errors;
  std::int64_t* at = question.get();
  for (std::size_t i = 0; i < answers.size(); ++i) {
    at = std::fill_n(at, answers[i].mhz.size(), static_cast<std::int64_t>(i));
    if (!answers[i].error.empty()) errors.append(answers[i].error);
  }
  nb::dict out;
  out["question"] = array(std::move(question), {total});
  out["long_way"] = joined(&Rows::long_way);
  out["utc_hour"] = joined(&Rows::utc_hour);
  out["mhz"] = joined(&Rows::mhz);
  out["basic_muf_mhz"] = joined(&Rows::basic_muf_mhz);
  out["snr_db"] = joined(&Rows::snr_db);
  out["return_snr_db"] = joined(&Rows::return_snr_db);
  out["days_in_ten"] = joined(&Rows::days_in_ten);
  out["return_days_in_ten"] = joined(&Rows::return_days_in_ten);
  out["both_days_in_ten"] = joined(&Rows::both_days_in_ten);
  out["errors"] = std::move(errors);
  return out;
}

/// The command line, as the process itself: standard streams, Ctrl-C ends it. Its exit code.
int run(const std::vector<std::string>& args, bool out_is_terminal, bool err_is_terminal, bool utf8,
        int screen_columns) {
  const nb::gil_scoped_release free;
  skerry::os::clean_up_on_signals();
  std::ostringstream out;
  out.exceptions(std::ios::badbit);
  skerry::cli::World world{.in = std::cin, .out = out, .err = std::cerr, .flush = {}};
  world.out_is_terminal = out_is_terminal;
  world.err_is_terminal = err_is_terminal;
  world.utf8 = utf8;
  world.columns = screen_columns;
  world.own_settings = true;
  world.no_colour = skerry::os::variable("NO_COLOR") || skerry::os::variable("TERM") == "dumb";
  world.flush = [&] {
    std::cout << out.str() << std::flush;
    out.str({});
    return std::cout.good();
  };
  const int code = skerry::cli::run(args, world);
  if (!world.flush()) return 1;
  skerry::os::end_if_interrupted();
  return code;
}

}  // namespace

NB_MODULE(_skerry, m) {
  m.attr("version") = SKERRY_VERSION;
  m.def("answer", &answer, "message"_a, "file"_a = nb::none(), "outside"_a = false, "seconds"_a = nb::none(),
        "progress"_a = nb::none());
  m.def(
      "written_out", [](std::string_view text) { return skerry::written_out(text); }, "text"_a);
  m.def("coverage", &coverage, "message"_a, "fields"_a, "progress"_a = nb::none());
  m.def("lines", &lines, "questions"_a, "trips"_a = nb::none());
  m.def("columns", &columns, "questions"_a);
  m.def("run", &run, "args"_a, "out_is_terminal"_a, "err_is_terminal"_a, "utf8"_a, "columns"_a);
  m.def("set_threads", &skerry::set_thread_count, "count"_a);
}
