// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "app/cli/opened_program.h"

#include "app/access/gate.h"
#include "app/cli/passphrase.h"
#include "db/claim.h"
#include "db/sqlite/file_id.h"
#include "db/writer/own_place.h"

#include <filesystem>
#include <system_error>

namespace markerlamp::app {

namespace {

using core::ErrorKind;
using core::fail;
using core::Result;

constexpr const char* kAs = "--as";
constexpr const char* kAsFile = "--as-passphrase-file";

Result<core::Acting> actingFor(db::ProgramFile& file, const SignIn& signIn) {
    if (!signIn.name)
        return fail(
            ErrorKind::Refused,
            file.path().string() + " asks who works with it; give the name of your account with --as NAME");
    const auto passphrase = readPassphrase(kAsFile, signIn.passphraseFile, false);
    if (!passphrase) return fail(passphrase.error());
    // Failures are counted in the file, which a connection that reads cannot do.
    auto writing = db::ProgramFile::open(file.path());
    if (!writing) return fail(writing.error());
    return Gate(**writing).signIn(QString::fromStdString(*signIn.name), QString::fromStdString(*passphrase));
}

}  // namespace

Words withSignIn(Words options) {
    options.emplace_back(kAs);
    options.emplace_back(kAsFile);
    return options;
}

SignIn signInOf(const Arguments& arguments) {
    return {arguments.value(kAs), arguments.value(kAsFile)};
}

Result<void> logBelongs(const std::string& path) {
    std::error_code ec;
    if (const auto bytes = std::filesystem::file_size(db::logOf(db::realPath(path)), ec); ec || bytes == 0)
        return {};
    const auto [claim, heldBy] = db::Claim::on(path);
    if (heldBy) return {};
    return db::logFits(path);
}

Result<std::unique_ptr<db::ProgramFile>> openProgram(const std::string& path, db::OpenMode mode,
                                                     const SignIn& signIn, std::optional<core::Deed> deed) {
    if (signIn.passphraseFile && !signIn.name)
        return fail(ErrorKind::Usage, std::string(kAsFile) + " goes with --as NAME only");
    if (auto belongs = logBelongs(path); !belongs) return fail(belongs.error());
    auto file = db::ProgramFile::open(path, mode);
    if (!file) return file;
    const auto accounts = (*file)->accounts();
    if (!accounts) return fail(accounts.error());
    if (accounts->empty()) {
        (*file)->actAs({"command line", core::Role::Anybody, {}});  // as the trail says it
        if (!signIn.name) return file;
        return fail(ErrorKind::Refused, "nobody signs in to " + path + "; leave --as out");
    }
    auto acting = actingFor(**file, signIn);
    if (!acting) return fail(acting.error());
    (*file)->actAs(std::move(*acting));
    if (deed)
        if (auto good = (*file)->may(*deed); !good) return fail(good.error());
    return file;
}

}  // namespace markerlamp::app
