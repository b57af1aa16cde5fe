// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/copies/sealed_copy.h"

#include "core/base/files.h"
#include "db/copies/copies.h"
#include "db/copies/copies_folder.h"
#include "db/program_file.h"

#include <cerrno>
#include <cstring>
#include <fstream>
#include <utility>

#include <stdlib.h>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

constexpr std::size_t kPiece = 1u << 20;
constexpr std::string_view kTail = ".sealed";

tl::unexpected<core::Error> unread(const std::filesystem::path& path) {
    return core::fail(ErrorKind::Machine, path.string() + " cannot be read: " + std::strerror(errno));
}

Result<void> write(const std::filesystem::path& copy, const std::filesystem::path& part, const SealKey& key) {
    std::ifstream in(copy, std::ios::binary);
    if (!in) return unread(copy);
    auto writer = SealWriter::create(part, key);
    if (!writer) return core::fail(writer.error());
    std::string piece(kPiece, '\0');
    while (in.read(piece.data(), static_cast<std::streamsize>(piece.size())) || in.gcount() > 0)
        if (auto done =
                (*writer)->write(std::string_view(piece).substr(0, static_cast<std::size_t>(in.gcount())));
            !done)
            return done;
    if (in.bad()) return unread(copy);
    return (*writer)->finish();
}

/// What can be opened is what was sealed.
Result<void> compare(const std::filesystem::path& copy, const std::filesystem::path& part,
                     const SealKey& key) {
    std::ifstream in(copy, std::ios::binary);
    auto reader = SealReader::open(part, key);
    if (!reader) return core::fail(reader.error());
    for (;;) {
        const auto piece = (*reader)->next();
        if (!piece) return core::fail(piece.error());
        if (piece->empty()) break;
        std::string same(piece->size(), '\0');
        if (!in.read(same.data(), static_cast<std::streamsize>(same.size())) || same != *piece)
            return core::fail(ErrorKind::Machine,
                              "the sealed copy does not open as it was sealed; the disk is not "
                              "to be trusted");
    }
    if (in.peek() != std::ifstream::traits_type::eof()) return unread(copy);
    return {};
}

Result<void> unseal(SealReader& reader, const std::filesystem::path& plain) {
    if (auto made = core::createPrivateFile(plain); !made) return made;
    std::ofstream out(plain, std::ios::binary);
    for (;;) {
        const auto piece = reader.next();
        if (!piece) return core::fail(piece.error());
        if (piece->empty()) break;
        out.write(piece->data(), static_cast<std::streamsize>(piece->size()));
    }
    out.close();
    if (!out)
        return core::fail(ErrorKind::Machine, plain.string() + " cannot be written: " + std::strerror(errno));
    return {};
}

}  // namespace

Result<void> sealCopy(const std::filesystem::path& copy, const std::filesystem::path& sealed,
                      const SealKey& key) {
    const std::filesystem::path part = core::besideName(sealed, "part");
    auto done = write(copy, part, key);
    if (done) done = compare(copy, part, key);
    if (done) done = core::publish(part, sealed);
    std::error_code ec;
    std::filesystem::remove(part, ec);
    return done;
}

Result<void> sealedCopyTo(const std::filesystem::path& program, const std::filesystem::path& sealed,
                          const SealKey& key) {
    if (auto there = core::folderIsThere(sealed); !there) return there;
    std::error_code ec;
    if (std::filesystem::exists(std::filesystem::symlink_status(sealed, ec)))
        return core::fail(ErrorKind::Refused, sealed.string() + " is there already; choose another name");
    // Beside the program file, where the same records lie plain anyway, and not on the way to somewhere else.
    const std::filesystem::path plain = core::besideName(program, "part");
    auto done = copyTo(program, plain);
    if (done) done = sealCopy(plain, sealed, key);
    std::filesystem::remove(plain, ec);
    return done;
}

Result<OpenedCopy> OpenedCopy::open(const std::filesystem::path& copy, const std::filesystem::path& near,
                                    const Open& open) {
    if (!isSealed(copy)) return OpenedCopy(copy, {});
    auto reader = open(copy);
    if (!reader) return core::fail(reader.error());
    std::error_code ec;
    std::string pattern = (std::filesystem::absolute(near, ec).parent_path() /
                           ("." + near.filename().string() + ".part-opened-XXXXXX"))
                              .string();
    if (::mkdtemp(pattern.data()) == nullptr)
        return core::fail(ErrorKind::Machine, "there is no room to open the copy beside " + near.string() +
                                                  ": " + std::strerror(errno));
    std::string name = copy.filename().string();
    if (name.ends_with(kTail)) name.resize(name.size() - kTail.size());
    OpenedCopy opened(std::filesystem::path(pattern) / name, pattern);
    if (auto done = unseal(**reader, opened.path()); !done) return core::fail(done.error());
    return opened;
}

OpenedCopy::OpenedCopy(OpenedCopy&& other) noexcept
    : m_path(std::move(other.m_path)), m_folder(std::exchange(other.m_folder, {})) {}

OpenedCopy::~OpenedCopy() {
    std::error_code ec;
    if (!m_folder.empty()) std::filesystem::remove_all(m_folder, ec);
}

Result<std::optional<SealKey>> secondSealOf(ProgramFile& file) {
    const auto text = file.fact(kSecondSealFact);
    if (!text) return core::fail(text.error());
    if (!*text || (*text)->empty()) return std::optional<SealKey>{};
    auto key = SealKey::fromText(**text);
    if (!key)
        return core::fail(ErrorKind::Refused, std::string("the fact ") + kSecondSealFact +
                                                  " is no key; set the passphrase of the copies anew");
    return key;
}

Result<void> setSecondSeal(ProgramFile& file, std::string_view passphrase, const SealCost& cost) {
    if (passphrase.empty()) return file.setFact(kSecondSealFact, "");
    const auto key = SealKey::of(passphrase, cost);
    if (!key) return core::fail(key.error());
    return file.setFact(kSecondSealFact, key->text());
}

}  // namespace markerlamp::db
