// The files of places as the module for a page carries them.
#include "../../src/geodesy/columns.hpp"

#include <fstream>
#include <sstream>

#include "check.hpp"
#include "skerry/core/embedded.hpp"

using namespace skerry;

#ifdef SKERRY_COLUMNS
TEST_CASE("names and places by columns become the files of data again, byte for byte",
          "[geodesy][columns][property]") {
  std::ifstream file(SKERRY_COLUMNS "places/columns.bin", std::ios::binary);
  std::ostringstream columns;
  columns << file.rdbuf();
  CHECK(geodesy::names_of_columns(columns.str()) == embedded("places/names.bin"));
  CHECK(geodesy::places_of_columns(columns.str()) == embedded("places/places.bin"));
}
#endif
