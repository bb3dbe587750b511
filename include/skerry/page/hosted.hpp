// The files of a folder from which the page can be installed and then works without network.
// Layer: page.
#pragma once

#include <string>
#include <vector>

namespace skerry::page {

struct HostedFile {
  std::string name, content;
};

/// To be put beside one another in this order by whoever hosts them: icons, manifest, index.html, and last worker.js, the
/// service worker. It keeps all of them under a version that is the fingerprint of their contents: a browser takes a new
/// set when the worker has changed, whole or not at all.
///   page    report_html() with Engine::hosted
///   source  W3C Service Workers; W3C Web Application Manifest
[[nodiscard]] std::vector<HostedFile> hosted_files(const std::string& page);

}  // namespace skerry::page
