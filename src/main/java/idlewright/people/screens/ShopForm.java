package idlewright.people.screens;

import idlewright.frame.Refused;
import idlewright.people.Sheet;
import idlewright.people.Shop;
import idlewright.people.Shops;
import java.time.ZoneId;
import java.util.Comparator;
import java.util.Currency;
import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/** The shop as typed into a form, on its own page and at the first start. */
record ShopForm(
        @Nullable String name,
        @Nullable String address,
        @Nullable String phone,
        @Nullable String email,
        @Nullable String taxNumber,
        @Nullable String currency,
        @Nullable String zone,
        @Nullable String units,
        @Nullable String language,
        @Nullable String sheet,
        @Nullable Long version) {

    static ShopForm of(Shops.Kept kept) {
        Shop shop = kept.shop();
        return new ShopForm(
                shop.name(),
                shop.address(),
                shop.phone(),
                shop.email(),
                shop.taxNumber(),
                shop.currency().getCurrencyCode(),
                shop.zone().getId(),
                shop.metric() ? "metric" : "US",
                shop.locale().toLanguageTag(),
                kept.sheet().name(),
                kept.version());
    }

    /** What a machine of this language and place would likely choose. */
    static ShopForm suggested(Locale locale, ZoneId zone) {
        boolean american = locale.getCountry().equals("US");
        return new ShopForm(
                null,
                null,
                null,
                null,
                null,
                american ? "USD" : null,
                zones().containsKey(zone.getId()) ? zone.getId() : null,
                american ? "US" : "metric",
                languages().containsKey(locale.toLanguageTag()) ? locale.toLanguageTag() : null,
                american ? "LETTER" : "A4",
                null);
    }

    Shop toShop() {
        var problems = new LinkedHashMap<String, String>();
        if (!currencies().containsKey(currency)) {
            problems.put("currency", "Choose the currency of your invoices.");
        }
        if (!zones().containsKey(zone)) {
            problems.put("zone", "Choose the time zone of the shop.");
        }
        if (!languages().containsKey(language)) {
            problems.put("language", "Choose how numbers and dates are written.");
        }
        if (!unitsToChoose().containsKey(units)) {
            problems.put("units", "Choose the units the shop works in.");
        }
        if (!sheets().containsKey(sheet)) {
            problems.put("sheet", "Choose the paper in the printer.");
        }
        if (name == null) {
            problems.put("name", "Give the shop's name as it stands on its paper.");
        }
        Refused.ifAny(problems);
        return new Shop(
                text(name),
                text(address),
                text(phone),
                text(email),
                text(taxNumber),
                Currency.getInstance(text(currency)),
                ZoneId.of(text(zone)),
                "metric".equals(units),
                Locale.forLanguageTag(text(language)));
    }

    Sheet toSheet() {
        return Sheet.valueOf(text(sheet));
    }

    static Map<String, String> currencies() {
        var currencies = new LinkedHashMap<String, String>();
        Currency.getAvailableCurrencies().stream()
                .filter(currency -> currency.getDefaultFractionDigits() >= 0)
                .sorted(Comparator.comparing(Currency::getCurrencyCode))
                .forEach(currency -> currencies.put(
                        currency.getCurrencyCode(),
                        currency.getCurrencyCode() + " – " + currency.getDisplayName(Locale.ENGLISH)));
        return currencies;
    }

    static Map<String, String> zones() {
        var zones = new LinkedHashMap<String, String>();
        ZoneId.getAvailableZoneIds().stream()
                .filter(id ->
                        id.matches("(Africa|America|Antarctica|Asia|Atlantic|Australia|Europe|Indian|Pacific)/.*"))
                .sorted()
                .forEach(id -> zones.put(id, id.replace('_', ' ')));
        zones.put("UTC", "UTC");
        return zones;
    }

    static Map<String, String> languages() {
        var languages = new LinkedHashMap<String, String>();
        languages.put("en-GB", "English, United Kingdom");
        languages.put("en-US", "English, United States");
        languages.put("en-CA", "English, Canada");
        languages.put("en-AU", "English, Australia");
        languages.put("en-NZ", "English, New Zealand");
        languages.put("en-IE", "English, Ireland");
        languages.put("en-ZA", "English, South Africa");
        return languages;
    }

    static Map<String, String> unitsToChoose() {
        var units = new LinkedHashMap<String, String>();
        units.put("metric", "Metric: km, °C, kPa");
        units.put("US", "US: miles, °F, inHg");
        return units;
    }

    static Map<String, String> sheets() {
        var sheets = new LinkedHashMap<String, String>();
        for (Sheet sheet : Sheet.values()) {
            sheets.put(sheet.name(), sheet.word());
        }
        return sheets;
    }

    private static String text(@Nullable String typed) {
        return Objects.requireNonNullElse(typed, "").strip();
    }
}
