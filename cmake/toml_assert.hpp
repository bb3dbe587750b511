// Included ahead of every source: toml++ then answers malformed bytes with its ordinary error in all builds.
#pragma once
#define TOML_ASSERT(x) static_cast<void>(x)
