#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// A file that only its passphrase opens: key by Argon2id (RFC 9106), content by XChaCha20-Poly1305 in frames
// (libsodium's secretstream), so that a file that was cut, altered or put together anew does not open.
//
// Header of 104 bytes, numbers little endian: "MkLpSeal", u32 version 1, u32 passes and u64 bytes of memory
// of Argon2id, 16 bytes salt, 24 bytes header of the stream, 16 bytes that the key is checked by, u64 length
// of the whole file, 16 bytes BLAKE2b of all before. Then frames of 64 KiB and 17 bytes, the last one
// shorter. Every byte of the header is bound to the first frame as additional data but the length and the
// check sum, which the last frame binds.

#include "core/base/result.h"

#include <array>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace markerlamp::db {

/// What guessing one passphrase costs.
struct SealCost {
    std::uint32_t passes = 3;
    std::uint64_t memory = 256u << 20;  ///< bytes

    bool operator==(const SealCost&) const = default;
};
/// Fewer characters are refused: NIST SP 800-63B, section 5.1.1.1.
inline constexpr std::size_t kShortestPassphrase = 8;
/// Refused with what would be right: too short, not UTF-8, longer than 1,024 bytes.
core::Result<void> checkSealPassphrase(std::string_view passphrase);

/// What a passphrase became: with it files are sealed and opened without working the key out each time.
struct SealKey {
    std::array<unsigned char, 16> salt{};
    SealCost cost;
    std::array<unsigned char, 32> master{};

    /// With a salt of its own. Machine: there is not enough memory.
    static core::Result<SealKey> of(std::string_view passphrase, const SealCost& cost = {});
    /// One line of hexadecimal digits and blanks, for a file that nobody else can read.
    [[nodiscard]] std::string text() const;
    static std::optional<SealKey> fromText(std::string_view text);

    bool operator==(const SealKey&) const = default;
};

/// Whether it begins as a sealed file does; false for what cannot be read.
[[nodiscard]] bool isSealed(const std::filesystem::path& path);

class SealWriter {
public:
    /// Begins a new file of mode 0600; Conflict when something of that name is there.
    static core::Result<std::unique_ptr<SealWriter>> create(const std::filesystem::path& path,
                                                            std::string_view passphrase,
                                                            const SealCost& cost = {});
    static core::Result<std::unique_ptr<SealWriter>> create(const std::filesystem::path& path,
                                                            const SealKey& key);
    ~SealWriter();
    SealWriter(const SealWriter&) = delete;
    SealWriter& operator=(const SealWriter&) = delete;

    core::Result<void> write(std::string_view bytes);
    /// Without it the file does not open.
    core::Result<void> finish();

private:
    struct Impl;
    explicit SealWriter(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> m_impl;
};

/// The answers to a file that does not open are four, and each says what would be right: it is no sealed
/// file, the passphrase is another, the file was cut short, the file was altered.
class SealReader {
public:
    static core::Result<std::unique_ptr<SealReader>> open(const std::filesystem::path& path,
                                                          std::string_view passphrase);
    /// Refused as another passphrase when the file was sealed with another key.
    static core::Result<std::unique_ptr<SealReader>> open(const std::filesystem::path& path,
                                                          const SealKey& key);
    ~SealReader();
    SealReader(const SealReader&) = delete;
    SealReader& operator=(const SealReader&) = delete;

    /// The next bytes; empty at the end. What came before an error is the writer's, but not all of it.
    core::Result<std::string> next();
    /// From the beginning again.
    core::Result<void> rewind();

private:
    struct Impl;
    static core::Result<std::unique_ptr<SealReader>> opened(std::unique_ptr<Impl> impl);
    explicit SealReader(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> m_impl;
};

}  // namespace markerlamp::db
