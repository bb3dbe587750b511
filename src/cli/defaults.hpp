// What somebody set down beforehand: SKERRY_* in the environment, and config.toml in skerry's folder of settings.
// Layer: cli (internal).
#pragma once

#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::cli {

/// One default of one option.
struct Default {
  std::string command;  ///< empty: of every command that has the option
  std::string option;   ///< without dashes in front
  std::vector<std::string> values;
  Where where;  ///< the variable, or the file with line and column
};

class Defaults {
 public:
  static constexpr const char* file_name = "config.toml";
  static constexpr const char* prefix = "SKERRY_";

  /// What the environment and the file say of this program's options.
  ///   with_file  false: the file is left out
  [[nodiscard]] static Defaults find(CLI::App& app, bool with_file);

  /// Those of the environment first: of two of one option the first holds.
  [[nodiscard]] const std::vector<Default>& all() const { return all_; }
  /// What is wrong in the file, or names nothing.
  [[nodiscard]] const std::vector<Error>& mistakes() const { return mistakes_; }
  /// Set, but no option is called so.
  [[nodiscard]] const std::vector<std::string>& strangers() const { return strangers_; }

  /// An option that has a default need not be given. Before the arguments are read.
  void excuse(CLI::App& app) const;
  /// The options that were not given take their values, of the program and of the command that was asked for;
  /// they count as not given. A value for all commands that this one does not know is passed over; so is a
  /// format where the name of the output file ends otherwise.
  void fill(CLI::App& app);
  /// A mistake in a value that fill() took is told with the place where it stands.
  [[nodiscard]] Error told(Error error) const;

 private:
  struct Taken {
    std::string name;  ///< as Error::where has it
    const Default* from = nullptr;
  };
  void fill(CLI::App& app, const std::string& command);
  std::vector<Default> all_;
  std::vector<Error> mistakes_;
  std::vector<std::string> strangers_;
  std::vector<Taken> taken_;
};

}  // namespace skerry::cli
