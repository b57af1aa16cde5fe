// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later

#include "db/package/seal.h"

#include "core/base/files.h"
#include "core/base/text.h"

#include <sodium.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <sstream>
#include <type_traits>
#include <utility>

namespace markerlamp::db {

using core::ErrorKind;
using core::Result;

namespace {

constexpr std::string_view kMagic = "MkLpSeal";
constexpr std::uint32_t kVersion = 1;
constexpr std::size_t kFrame = 64u << 10;  ///< bytes of content
constexpr std::size_t kSealedFrame = kFrame + crypto_secretstream_xchacha20poly1305_ABYTES;
constexpr std::size_t kLongestPassphrase = 1024;
constexpr std::uint32_t kMostPasses = 16;
constexpr std::uint64_t kMostMemory = 1u << 30;

// Places in the header.
constexpr std::size_t kPasses = 12, kMemory = 16, kSalt = 24, kStream = 40, kCheck = 64, kLength = 80,
                      kSum = 88, kHeader = 104;
constexpr std::size_t kSumBytes = 16;
static_assert(kStream - kSalt == crypto_pwhash_SALTBYTES);
static_assert(kCheck - kStream == crypto_secretstream_xchacha20poly1305_HEADERBYTES);
using Header = std::array<unsigned char, kHeader>;

template <class Number>
void put(Header& header, std::size_t at, Number value) {
    for (std::size_t i = 0; i < sizeof value; ++i)
        header[at + i] = static_cast<unsigned char>(value >> (8 * i));
}
template <class Number>
Number take(const Header& header, std::size_t at) {
    Number value = 0;
    for (std::size_t i = 0; i < sizeof value; ++i) value |= static_cast<Number>(header[at + i]) << (8 * i);
    return value;
}

void fillSum(const Header& header, unsigned char* sum) {
    crypto_generichash(sum, kSumBytes, header.data(), kSum, nullptr, 0);
}

using Bytes = std::array<unsigned char, crypto_secretstream_xchacha20poly1305_KEYBYTES>;
static_assert(std::is_same_v<Bytes, decltype(SealKey::master)>);

/// False when there is not enough memory.
bool deriveMaster(std::string_view passphrase, const unsigned char* salt, const SealCost& cost,
                  Bytes& master) {
    return crypto_pwhash(master.data(), master.size(), passphrase.data(), passphrase.size(), salt,
                         cost.passes, static_cast<std::size_t>(cost.memory),
                         crypto_pwhash_ALG_ARGON2ID13) == 0;
}

/// Keys that do not stay in memory.
class Keys {
public:
    Keys() = default;
    ~Keys() { sodium_memzero(m_bytes.data(), m_bytes.size()); }
    Keys(const Keys&) = delete;
    Keys& operator=(const Keys&) = delete;

    /// False when there is not enough memory.
    bool derive(std::string_view passphrase, const Header& header) {
        Bytes master;
        const bool done = deriveMaster(
            passphrase, header.data() + kSalt,
            {take<std::uint32_t>(header, kPasses), take<std::uint64_t>(header, kMemory)}, master);
        derive(master);
        sodium_memzero(master.data(), master.size());
        return done;
    }
    void derive(const Bytes& master) {
        derived("markerlamp.seal.stream", master, m_bytes.data(), m_bytes.size());
        derived("markerlamp.seal.check", master, m_check.data(), m_check.size());
    }
    [[nodiscard]] const unsigned char* stream() const { return m_bytes.data(); }
    [[nodiscard]] const std::array<unsigned char, kLength - kCheck>& check() const { return m_check; }

private:
    static void derived(std::string_view what, const Bytes& master, unsigned char* out, std::size_t size) {
        crypto_generichash(out, size, reinterpret_cast<const unsigned char*>(what.data()), what.size(),
                           master.data(), master.size());
    }
    Bytes m_bytes{};
    std::array<unsigned char, kLength - kCheck> m_check{};
};

/// A file of the C library, closed at the end.
class File {
public:
    File() = default;
    ~File() { close(); }
    File(const File&) = delete;
    File& operator=(const File&) = delete;

    bool open(const std::filesystem::path& path, const char* mode) {
        m_file = std::fopen(path.c_str(), mode);
        return m_file != nullptr;
    }
    bool close() {
        if (m_file == nullptr) return true;
        return std::fclose(std::exchange(m_file, nullptr)) == 0;
    }
    bool write(const unsigned char* bytes, std::size_t size) {
        return std::fwrite(bytes, 1, size, m_file) == size;
    }
    std::size_t read(unsigned char* bytes, std::size_t size) { return std::fread(bytes, 1, size, m_file); }
    [[nodiscard]] bool bad() const { return std::ferror(m_file) != 0; }
    bool seek(std::size_t place) { return std::fseek(m_file, static_cast<long>(place), SEEK_SET) == 0; }

private:
    std::FILE* m_file = nullptr;
};

tl::unexpected<core::Error> notWritten(const std::filesystem::path& path) {
    return core::fail(ErrorKind::Machine, path.string() + " cannot be written: " + std::strerror(errno));
}
tl::unexpected<core::Error> altered(const std::filesystem::path& path) {
    return core::fail(ErrorKind::Refused,
                      path.string() +
                          " was altered after it was sealed; nothing of it is taken. Get it once "
                          "more from where it was made");
}
tl::unexpected<core::Error> cut(const std::filesystem::path& path) {
    return core::fail(ErrorKind::Refused, path.string() +
                                              " was cut short; nothing of it is taken. Copy it once "
                                              "more, and wait until it is all there");
}
tl::unexpected<core::Error> notEnoughMemory() {
    return core::fail(ErrorKind::Machine,
                      "there is not enough memory to work out the key; close other programs and try again");
}

void wakeSodium() {
    if (sodium_init() < 0) std::abort();  // no source of randomness: nothing secret can be made
}

}  // namespace

Result<void> checkSealPassphrase(std::string_view passphrase) {
    const auto letters = static_cast<std::size_t>(std::ranges::count_if(
        passphrase, [](char c) { return (static_cast<unsigned char>(c) & 0xc0) != 0x80; }));
    if (letters < kShortestPassphrase)
        return core::fail(ErrorKind::Refused, "the passphrase is too short; take at least " +
                                                  std::to_string(kShortestPassphrase) +
                                                  " characters, better four words or more");
    if (passphrase.size() > kLongestPassphrase)
        return core::fail(ErrorKind::Refused,
                          "the passphrase is longer than 1,024 bytes; take a shorter one");
    if (passphrase.find('\0') != std::string_view::npos || !core::isUtf8(passphrase))
        return core::fail(ErrorKind::Refused, "the passphrase is no text; type letters, digits and signs");
    return {};
}

Result<SealKey> SealKey::of(std::string_view passphrase, const SealCost& cost) {
    wakeSodium();
    if (auto sound = checkSealPassphrase(passphrase); !sound) return core::fail(sound.error());
    SealKey key;
    key.cost = cost;
    randombytes_buf(key.salt.data(), key.salt.size());
    if (!deriveMaster(passphrase, key.salt.data(), cost, key.master)) return notEnoughMemory();
    return key;
}

std::string SealKey::text() const {
    const auto hex = [](const auto& bytes) {
        std::string out(2 * bytes.size() + 1, '\0');
        sodium_bin2hex(out.data(), out.size(), bytes.data(), bytes.size());
        out.pop_back();
        return out;
    };
    return std::to_string(cost.passes) + " " + std::to_string(cost.memory) + " " + hex(salt) + " " +
           hex(master);
}

std::optional<SealKey> SealKey::fromText(std::string_view text) {
    SealKey key;
    std::istringstream in{std::string(text)};
    std::string salt, master, more;
    if (!(in >> key.cost.passes >> key.cost.memory >> salt >> master) || (in >> more)) return std::nullopt;
    const auto bytes = [](const std::string& hex, auto& into) {
        std::size_t size = 0;
        return hex.size() == 2 * into.size() &&
               sodium_hex2bin(into.data(), into.size(), hex.data(), hex.size(), nullptr, &size, nullptr) ==
                   0 &&
               size == into.size();
    };
    if (!bytes(salt, key.salt) || !bytes(master, key.master)) return std::nullopt;
    return key;
}

bool isSealed(const std::filesystem::path& path) {
    File file;
    std::array<unsigned char, kMagic.size()> begin{};
    if (!file.open(path, "rb") || file.read(begin.data(), begin.size()) != begin.size()) return false;
    return std::equal(begin.begin(), begin.end(), kMagic.begin());
}

struct SealWriter::Impl {
    std::filesystem::path path;
    File file;
    Header header{};
    crypto_secretstream_xchacha20poly1305_state state{};
    std::string waiting;
    std::uint64_t length = kHeader;
    bool first = true;

    ~Impl() { sodium_memzero(&state, sizeof state); }

    Result<void> push(std::string_view content, unsigned char tag) {
        std::array<unsigned char, kSealedFrame> sealed;
        unsigned long long size = 0;
        if (tag == crypto_secretstream_xchacha20poly1305_TAG_FINAL) {
            length += content.size() + crypto_secretstream_xchacha20poly1305_ABYTES;
            put(header, kLength, length);
        }
        // The first frame binds what the header says before its length, the last one all of it.
        const bool last = tag == crypto_secretstream_xchacha20poly1305_TAG_FINAL;
        const std::size_t bound = last ? kSum : first ? kLength : 0;
        crypto_secretstream_xchacha20poly1305_push(&state, sealed.data(), &size,
                                                   reinterpret_cast<const unsigned char*>(content.data()),
                                                   content.size(), header.data(), bound, tag);
        first = false;
        if (!last) length += size;
        if (!file.write(sealed.data(), static_cast<std::size_t>(size))) return notWritten(path);
        return {};
    }
};

SealWriter::SealWriter(std::unique_ptr<Impl> impl) : m_impl(std::move(impl)) {}
SealWriter::~SealWriter() = default;

Result<std::unique_ptr<SealWriter>> SealWriter::create(const std::filesystem::path& path,
                                                       std::string_view passphrase, const SealCost& cost) {
    wakeSodium();
    if (auto sound = checkSealPassphrase(passphrase); !sound) return core::fail(sound.error());
    auto key = SealKey::of(passphrase, cost);
    if (!key) return core::fail(key.error());
    auto writer = create(path, *key);
    sodium_memzero(key->master.data(), key->master.size());
    return writer;
}

Result<std::unique_ptr<SealWriter>> SealWriter::create(const std::filesystem::path& path,
                                                       const SealKey& key) {
    wakeSodium();
    auto impl = std::make_unique<Impl>();
    impl->path = path;
    Header& header = impl->header;
    std::ranges::copy(kMagic, header.begin());
    put(header, kMagic.size(), kVersion);
    put(header, kPasses, key.cost.passes);
    put(header, kMemory, key.cost.memory);
    std::ranges::copy(key.salt, header.begin() + kSalt);
    Keys keys;
    keys.derive(key.master);
    crypto_secretstream_xchacha20poly1305_init_push(&impl->state, header.data() + kStream, keys.stream());
    std::ranges::copy(keys.check(), header.begin() + kCheck);
    if (auto made = core::createPrivateFile(path); !made) return core::fail(made.error());
    if (!impl->file.open(path, "wb") || !impl->file.write(header.data(), header.size()))
        return notWritten(path);
    return std::unique_ptr<SealWriter>(new SealWriter(std::move(impl)));
}

Result<void> SealWriter::write(std::string_view bytes) {
    Impl& impl = *m_impl;
    while (!bytes.empty()) {
        const std::size_t size = std::min(kFrame - impl.waiting.size(), bytes.size());
        impl.waiting += bytes.substr(0, size);
        bytes.remove_prefix(size);
        if (impl.waiting.size() < kFrame) return {};
        if (auto done = impl.push(impl.waiting, 0); !done) return done;
        impl.waiting.clear();
    }
    return {};
}

Result<void> SealWriter::finish() {
    Impl& impl = *m_impl;
    if (auto done = impl.push(impl.waiting, crypto_secretstream_xchacha20poly1305_TAG_FINAL); !done)
        return done;
    fillSum(impl.header, impl.header.data() + kSum);
    if (!impl.file.seek(0) || !impl.file.write(impl.header.data(), kHeader) || !impl.file.close())
        return notWritten(impl.path);
    return {};
}

struct SealReader::Impl {
    std::filesystem::path path;
    File file;
    Header header{};
    Keys keys;
    crypto_secretstream_xchacha20poly1305_state state{};
    bool first = true, ended = false;

    ~Impl() { sodium_memzero(&state, sizeof state); }

    Result<void> readHeader() {
        std::error_code ec;
        if (!std::filesystem::is_regular_file(path, ec))
            return core::fail(ErrorKind::NotFound, "there is no file " + path.string());
        const std::uint64_t size = std::filesystem::file_size(path, ec);
        if (ec || !file.open(path, "rb"))
            return core::fail(ErrorKind::Machine, path.string() + " cannot be read: " + std::strerror(errno));
        const std::size_t got = file.read(header.data(), kHeader);
        if (file.bad()) return core::fail(ErrorKind::Machine, path.string() + " cannot be read");
        const std::string_view begin(reinterpret_cast<const char*>(header.data()),
                                     std::min(got, kMagic.size()));
        if (begin != kMagic.substr(0, begin.size()) || got == 0)
            return core::fail(ErrorKind::Refused, path.string() + " is no sealed file of this program");
        if (got < kHeader) return cut(path);
        std::array<unsigned char, kSumBytes> sum;
        fillSum(header, sum.data());
        if (!std::equal(sum.begin(), sum.end(), header.begin() + kSum)) return altered(path);
        if (take<std::uint32_t>(header, kMagic.size()) != kVersion)
            return core::fail(ErrorKind::NewerFile,
                              path.string() + " was sealed by a newer program; open it with that one");
        if (size < take<std::uint64_t>(header, kLength)) return cut(path);
        if (size > take<std::uint64_t>(header, kLength)) return altered(path);
        const auto passes = take<std::uint32_t>(header, kPasses);
        const auto memory = take<std::uint64_t>(header, kMemory);
        if (passes < crypto_pwhash_OPSLIMIT_MIN || passes > kMostPasses ||
            memory < crypto_pwhash_MEMLIMIT_MIN || memory > kMostMemory)
            return core::fail(ErrorKind::Refused,
                              path.string() +
                                  " asks for more work than this program does to open a file; "
                                  "have it made anew by this program");
        return {};
    }

    Result<void> begin() {
        first = true;
        ended = false;
        if (!file.seek(kHeader)) return core::fail(ErrorKind::Machine, path.string() + " cannot be read");
        if (crypto_secretstream_xchacha20poly1305_init_pull(&state, header.data() + kStream, keys.stream()) !=
            0)
            return altered(path);
        return {};
    }
};

SealReader::SealReader(std::unique_ptr<Impl> impl) : m_impl(std::move(impl)) {}
SealReader::~SealReader() = default;

Result<std::unique_ptr<SealReader>> SealReader::open(const std::filesystem::path& path,
                                                     std::string_view passphrase) {
    wakeSodium();
    auto impl = std::make_unique<Impl>();
    impl->path = path;
    if (auto read = impl->readHeader(); !read) return core::fail(read.error());
    if (!impl->keys.derive(passphrase, impl->header)) return notEnoughMemory();
    return opened(std::move(impl));
}

Result<std::unique_ptr<SealReader>> SealReader::open(const std::filesystem::path& path, const SealKey& key) {
    wakeSodium();
    auto impl = std::make_unique<Impl>();
    impl->path = path;
    if (auto read = impl->readHeader(); !read) return core::fail(read.error());
    impl->keys.derive(key.master);
    return opened(std::move(impl));
}

Result<std::unique_ptr<SealReader>> SealReader::opened(std::unique_ptr<Impl> impl) {
    if (sodium_memcmp(impl->keys.check().data(), impl->header.data() + kCheck, impl->keys.check().size()) !=
        0)
        return core::fail(ErrorKind::Refused, "this passphrase does not open " + impl->path.string() +
                                                  "; mind capitals and blanks, or ask who made it");
    if (auto begun = impl->begin(); !begun) return core::fail(begun.error());
    return std::unique_ptr<SealReader>(new SealReader(std::move(impl)));
}

Result<std::string> SealReader::next() {
    Impl& impl = *m_impl;
    if (impl.ended) return std::string();
    std::array<unsigned char, kSealedFrame> sealed;
    const std::size_t got = impl.file.read(sealed.data(), sealed.size());
    if (impl.file.bad()) return core::fail(ErrorKind::Machine, impl.path.string() + " cannot be read");
    if (got < crypto_secretstream_xchacha20poly1305_ABYTES) return altered(impl.path);
    std::string content(got - crypto_secretstream_xchacha20poly1305_ABYTES, '\0');
    unsigned char tag = 0;
    // The last frame is always shorter than the others; which it is says what it binds.
    const auto pulled = [&](std::size_t bound) {
        auto state = impl.state;
        const bool good = crypto_secretstream_xchacha20poly1305_pull(
                              &state, reinterpret_cast<unsigned char*>(content.data()), nullptr, &tag,
                              sealed.data(), got, impl.header.data(), bound) == 0;
        if (good) impl.state = state;
        return good;
    };
    const bool last = got < sealed.size();
    if (!(last ? pulled(kSum) : pulled(impl.first ? kLength : 0))) return altered(impl.path);
    if (last != (tag == crypto_secretstream_xchacha20poly1305_TAG_FINAL)) return altered(impl.path);
    impl.first = false;
    impl.ended = last;
    return content;
}

Result<void> SealReader::rewind() {
    return m_impl->begin();
}

}  // namespace markerlamp::db
