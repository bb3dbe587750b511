/// @file
/// @mainpage Skerry as a library
/// All that another program needs: the questions of the command line, from text to text and from values to values.
/// Link skerry::engine (CMake), or what `pkg-config --libs --static skerry` names, and include skerry/skerry.hpp.
///
/// This is the part that stays: before 1.0 a change of the minor number may break it and is told in CHANGELOG.md; the
/// rooms' own headers may change at any time.
#pragma once

#include "skerry/engine/antenna.hpp"   // antenna_rows
#include "skerry/engine/batch.hpp"     // answer_line: a question and its answer on one line of JSON
#include "skerry/engine/pack.hpp"      // pack, explain
#include "skerry/engine/places.hpp"    // places by name
#include "skerry/engine/report.hpp"    // the page
#include "skerry/engine/score.hpp"     // forecasts against reports
#include "skerry/engine/session.hpp"   // all of it as JSON messages
#include "skerry/engine/sky.hpp"       // sun_answer, read_coverage; circuit::coverage does the work
#include "skerry/files/trip_file.hpp"  // read_trip
