// The parts of a trip file, each read by its own function; all mistakes gathered in one place.
// Layer: files, private.
#pragma once

#include <map>
#include <optional>

#include "skerry/files/trip_file.hpp"
#include "toml_cursor.hpp"

namespace skerry::files {

using namespace kit;  // what is read, by its own names

/// What the parts share while a file is read.
struct Reading {
  Mistakes& mistakes;
  const FileReader& files;
  const TerrainReader* terrain = nullptr;
  Trip trip = {};
  int itu_region = 1;
  bool mass_needed = true;  ///< false for files that hold antennas only

  /// What was named, and where.
  /// id -> line, of all that can be packed or stood on; negative: the line of the library.
  std::map<std::string, int> inventory = {};
  std::map<std::string, int> bag_ids = {}, site_ids = {}, region_ids = {};
  /// Names of other things, to be looked up when all are known.
  struct Reference {
    Placed to;
    std::string of;    ///< id of the thing that names it
    std::string from;  ///< "needs of [[antenna]] 'efhw'"
    bool support_only = false;
    bool in_library = false;
  };
  std::vector<Reference> references = {};
  std::vector<std::string> support_ids = {};
  /// The ids of all of a kind, behind the id by which the file calls it: those with a count above 1.
  std::map<std::string, std::vector<std::string>> alike = {};
  int first_region_line = 0;
  toml::source_position modes_at = {}, charging_at = {};

  /// Another file that [trip] names.
  struct Named {
    std::string file;
    toml::source_position at;
  };
  std::optional<Named> library_named = {}, learned_named = {};
  std::vector<Placed> library_items = {};  ///< ids wanted from the library; empty: all
  /// The name of the library that is being read; empty: this is the trip itself. A library may lack any kind
  /// of thing.
  std::string library = {};
  bool sites_known = true;  ///< false: a library by itself, whose at_site names sites of trips to come

  /// Registers an id; a second one of the same name is reported. Ids of each map are apart.
  void claim(std::map<std::string, int>& ids, const std::string& id, Cursor& cursor);
  /// The content of a file that the trip names; a failure is reported at the name, behind `said`.
  std::optional<std::string> fetch(const Named& named, std::string_view said = {});
  /// Passes on a mistake inside a named file, told with its own place in that file.
  void pass_on(const Named& named, Error error);
};

/// The document, or the one mistake that keeps it from being read at all.
Result<toml::table> parse_document(std::string_view text, const std::string& file);

// In trip_head.cpp
void read_head(Cursor& root, Reading& reading);       ///< [trip]
void read_listeners(Cursor& root, Reading& reading);  ///< [people]
void read_licence(Cursor& root, Reading& reading);    ///< [licence]; after the sites
void read_sessions(Cursor& root, Reading& reading);   ///< [[session]]; after [trip], the sites and [licence]
// In trip_places.cpp
void read_sites(Cursor& root, Reading& reading);
void read_regions(Cursor& root, Reading& reading);
// In trip_things.cpp
void read_things(Cursor& root, Reading& reading);  ///< rigs, supports, cables, tuners, batteries, bags, items
/// id, name, mass, size of anything; claims the id and gives the cursor its title.
void read_item(Cursor& cursor, Item& item, Reading& reading, const char* kind, std::string id_otherwise = {});
/// `bands` or `modes`; nothing stands twice.
std::vector<noise::Band> read_bands(Cursor& cursor, const Reading& reading);
/// noise::find_mode, called and not pointed at: clang 14 for WebAssembly takes the address of a function whose
/// result it has not needed yet as that of another.
inline Result<noise::Mode> mode_named(std::string_view name, const Where& where) {
  return noise::find_mode(name, where);
}
/// shares: gets the modes' shares in their order, where they are told.
std::vector<noise::Mode> read_modes(Cursor& cursor, std::vector<double>* shares = nullptr);
/// The ids of bands or modes.
template <class Named>
std::vector<std::string> ids_of(const std::vector<Named>& named) {
  std::vector<std::string> out;
  for (const auto& one : named) out.push_back(one.id);
  return out;
}
/// Ids of other things under a key of the thing `of`, to be looked up when all are known.
std::vector<std::string> read_references(Cursor& cursor, std::string_view key, const Item& of,
                                         Reading& reading, bool support_only = false);
// In trip_antennas.cpp
void read_antenna_tables(Cursor& root, Reading& reading);
// In counted.cpp
/// Claims the ids of all of a kind: "guy", "guy-2" ...
void claim_alike(Cursor& cursor, const Item& item, Reading& reading);
/// Puts as many things for each as its count says; to call them by the file's id means all of them.
void count_out(Reading& reading);
// In work.cpp
void check_work(Reading& reading);  ///< reports a trip that is too much to compute; after everything else
// In library.cpp
void read_named_library(Reading& reading);  ///< before the trip's own things
/// Library antennas lose the supports that are not in this trip; one left without any is reported.
void settle_library_supports(Reading& reading);
// In learned.cpp
void read_named_learned(Reading& reading);  ///< after regions and [people]

}  // namespace skerry::files
