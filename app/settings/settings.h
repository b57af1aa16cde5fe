#pragma once
// SPDX-FileCopyrightText: The Markerlamp developers
// SPDX-License-Identifier: GPL-3.0-or-later
// What this workstation remembers about itself: palette, sizes, paper, window, recent files. Records never
// live here.

#include "app/support/theme.h"
#include "forms/sheets/sheets.h"

#include <QObject>
#include <QSettings>
#include <QStringList>

namespace markerlamp::app {

class Settings final : public QObject {
    Q_OBJECT

public:
    inline static constexpr int kVersion = 1;
    inline static constexpr int kRecentFiles = 10;

    /// In the user's configuration folder.
    explicit Settings(QObject* parent = nullptr);
    /// In a file of its own, for tests.
    explicit Settings(const QString& file, QObject* parent = nullptr);

    [[nodiscard]] Theme::Choice palette() const;
    void setPalette(Theme::Choice choice);
    /// Logical pixels per millimetre as measured with a card; 0 when never measured.
    [[nodiscard]] double pxPerMm() const;
    void setPxPerMm(double pxPerMm);
    [[nodiscard]] bool roughRoad() const;
    void setRoughRoad(bool rough);
    [[nodiscard]] bool dockLeft() const;
    void setDockLeft(bool left);
    /// Three columns of smaller tiles.
    [[nodiscard]] bool denseTiles() const;
    void setDenseTiles(bool dense);
    /// Letters without Ctrl act on the scoring page.
    [[nodiscard]] bool singleKeys() const;
    void setSingleKeys(bool on);
    [[nodiscard]] forms::Paper paper() const;
    void setPaper(forms::Paper paper);

    /// Newest first; files that are gone are dropped.
    [[nodiscard]] QStringList recentFiles() const;
    void noteRecentFile(const QString& path);

    [[nodiscard]] QByteArray geometry() const;
    void setGeometry(const QByteArray& geometry);
    /// Any other small value of a part of the window, under a name of its own.
    [[nodiscard]] QVariant value(const QString& key, const QVariant& otherwise = {}) const;
    void setValue(const QString& key, const QVariant& value);
    [[nodiscard]] QSettings& store() { return m_store; }

    /// Hands palette and sizes to the theme.
    void applyTo(Theme& theme) const;

signals:
    void changed();

private:
    void bringUpToDate();

    QSettings m_store;
};

}  // namespace markerlamp::app
