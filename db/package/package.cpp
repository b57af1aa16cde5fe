// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/package/package.h"

#include "core/base/files.h"
#include "core/base/text.h"
#include "db/exchange/document_kind.h"

#include <archive.h>
#include <archive_entry.h>

#include <algorithm>
#include <memory>
#include <optional>
#include <ranges>
#include <string>
#include <utility>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

constexpr std::size_t kMostDocuments = 500'000;

struct CloseWriter {
    void operator()(archive* made) const { archive_write_free(made); }
};
struct CloseReader {
    void operator()(archive* read) const { archive_read_free(read); }
};

/// Tar whose bytes go into a seal.
class PackageWriter {
public:
    explicit PackageWriter(SealWriter& seal) : m_seal(seal), m_archive(archive_write_new()) {
        archive_write_set_format_pax_restricted(m_archive.get());
        archive_write_set_bytes_in_last_block(m_archive.get(), 1);
        archive_write_open(m_archive.get(), this, nullptr, &PackageWriter::take, nullptr);
    }

    Result<void> add(const std::string& name, const std::string& text) {
        const std::unique_ptr<archive_entry, decltype(&archive_entry_free)> entry(archive_entry_new(),
                                                                                  &archive_entry_free);
        archive_entry_set_pathname(entry.get(), name.c_str());
        archive_entry_set_size(entry.get(), static_cast<la_int64_t>(text.size()));
        archive_entry_set_filetype(entry.get(), AE_IFREG);
        archive_entry_set_perm(entry.get(), 0600);
        const bool good = archive_write_header(m_archive.get(), entry.get()) == ARCHIVE_OK &&
                          (text.empty() || archive_write_data(m_archive.get(), text.data(), text.size()) ==
                                               static_cast<la_ssize_t>(text.size()));
        return good ? Result<void>() : failed();
    }
    Result<void> finish() {
        if (archive_write_close(m_archive.get()) != ARCHIVE_OK) return failed();
        return m_seal.finish();
    }

private:
    static la_ssize_t take(archive*, void* self, const void* bytes, std::size_t size) {
        auto& writer = *static_cast<PackageWriter*>(self);
        auto done = writer.m_seal.write({static_cast<const char*>(bytes), size});
        if (done) return static_cast<la_ssize_t>(size);
        writer.m_error = done.error();
        return -1;
    }
    [[nodiscard]] Result<void> failed() const {
        if (m_error) return core::fail(*m_error);
        const char* why = archive_error_string(m_archive.get());
        return core::fail(ErrorKind::Machine,
                          std::string("the package cannot be written: ") + (why ? why : "no reason given"));
    }

    SealWriter& m_seal;
    std::optional<core::Error> m_error;
    std::unique_ptr<archive, CloseWriter> m_archive;
};

/// Why a name cannot be that of a document in a package; empty when it can.
std::string whyNot(std::string_view name) {
    if (!core::isUtf8(name) ||
        std::ranges::any_of(name, [](unsigned char c) { return c < 0x20 || c == 0x7f; }))
        return "the name is no text";
    if (name.starts_with('/') || name.find('\\') != std::string_view::npos)
        return "the name leads out of the package";
    std::size_t begin = 0;
    while (begin <= name.size()) {
        const std::size_t end = std::min(name.find('/', begin), name.size());
        const std::string_view part = name.substr(begin, end - begin);
        if (part.empty() || part == "." || part == "..") return "the name leads out of the package";
        begin = end + 1;
    }
    if (kindOf(std::filesystem::path(name)) == DocumentKind::Unknown)
        return "this is no document of a program";
    return {};
}

/// Tar whose bytes come out of a seal.
class PackageReader {
public:
    PackageReader(SealReader& seal, std::string name)
        : m_seal(seal), m_name(std::move(name)), m_archive(archive_read_new()) {
        archive_read_support_format_tar(m_archive.get());
        archive_read_open(m_archive.get(), this, nullptr, &PackageReader::give, nullptr);
    }

    /// Nothing at the end.
    Result<std::optional<NamedDocument>> next() {
        archive_entry* entry = nullptr;
        const int got = archive_read_next_header(m_archive.get(), &entry);
        if (got == ARCHIVE_EOF) return rest();
        if (got != ARCHIVE_OK) return failed();
        const char* path = archive_entry_pathname_utf8(entry);
        NamedDocument document;
        document.name = path ? path : "";
        if (archive_entry_filetype(entry) != AE_IFREG || archive_entry_hardlink(entry) != nullptr)
            return refused(document.name, "only plain documents may be in a package");
        if (const std::string why = whyNot(document.name); !why.empty()) return refused(document.name, why);
        if (++m_count > kMostDocuments)
            return refused(document.name, "the package has more than 500,000 documents");
        const la_int64_t size = archive_entry_size(entry);
        if (size < 0 || static_cast<std::uint64_t>(size) > kLargestDocument)
            return refused(document.name, "the document is too large");
        document.text.resize(static_cast<std::size_t>(size));
        if (size > 0 &&
            archive_read_data(m_archive.get(), document.text.data(), document.text.size()) != size)
            return failed();
        return std::optional(std::move(document));
    }

private:
    static la_ssize_t give(archive*, void* self, const void** bytes) {
        auto& reader = *static_cast<PackageReader*>(self);
        auto more = reader.m_seal.next();
        if (!more) {
            reader.m_error = more.error();
            return -1;
        }
        reader.m_bytes = std::move(*more);
        *bytes = reader.m_bytes.data();
        return static_cast<la_ssize_t>(reader.m_bytes.size());
    }
    /// The archive has ended; the seal must end too, and unbroken.
    Result<std::optional<NamedDocument>> rest() {
        for (;;) {
            const auto more = m_seal.next();
            if (!more) return core::fail(more.error());
            if (more->empty()) return std::optional<NamedDocument>();
        }
    }
    [[nodiscard]] Result<std::optional<NamedDocument>> failed() const {
        if (m_error) return core::fail(*m_error);
        return core::fail(
            ErrorKind::Refused,
            m_name + " is sealed but holds no documents of a program; make the package with this program");
    }
    [[nodiscard]] Result<std::optional<NamedDocument>> refused(const std::string& document,
                                                               const std::string& why) const {
        return core::fail(m_name + " is refused; nothing of it is taken",
                          {{m_name, 0, {}, document, why, "make the package with this program"}});
    }

    SealReader& m_seal;
    std::string m_name, m_bytes;
    std::optional<core::Error> m_error;
    std::size_t m_count = 0;
    std::unique_ptr<archive, CloseReader> m_archive;
};

/// All of it is read once before anything is taken. How many documents.
Result<std::size_t> checked(SealReader& seal, const std::string& name) {
    PackageReader reader(seal, name);
    for (std::size_t count = 0;; ++count) {
        const auto document = reader.next();
        if (!document) return core::fail(document.error());
        if (!*document) return count;
    }
}

}  // namespace

Result<int> writePackage(ProgramFile& file, const std::filesystem::path& path, std::string_view passphrase,
                         const SealCost& cost, const std::function<bool(double)>& progress) {
    if (auto there = core::folderIsThere(path); !there) return core::fail(there.error());
    std::error_code ec;
    if (std::filesystem::exists(std::filesystem::symlink_status(path, ec)))
        return core::fail(ErrorKind::Conflict, path.string() + " is there already; choose another name");
    const std::filesystem::path part = core::besideName(path, "part");
    auto count = [&]() -> Result<int> {
        auto seal = SealWriter::create(part, passphrase, cost);
        if (!seal) return core::fail(seal.error());
        PackageWriter writer(**seal);
        int written = 0;
        const auto done = exportEach(
            file,
            [&](const std::string& name, const std::string& text) {
                ++written;
                return writer.add(name, text);
            },
            progress);
        if (!done) return core::fail(done.error());
        if (auto finished = writer.finish(); !finished) return core::fail(finished.error());
        return written;
    }();
    if (count) {
        if (auto published = core::publish(part, path); !published) {
            std::filesystem::remove(part, ec);
            return core::fail(published.error());
        }
        return count;
    }
    std::filesystem::remove(part, ec);
    return count;
}

Result<ImportReport> readPackage(ProgramFile& file, const std::filesystem::path& path,
                                 std::string_view passphrase, const std::function<bool(double)>& progress) {
    auto seal = SealReader::open(path, passphrase);
    if (!seal) return core::fail(seal.error());
    const auto count = checked(**seal, path.string());
    if (!count) return core::fail(count.error());
    if (auto again = (*seal)->rewind(); !again) return core::fail(again.error());
    PackageReader reader(**seal, path.string());
    return importEach(
        file, *count, [&reader] { return reader.next(); }, progress);
}

}  // namespace markerlamp::db
