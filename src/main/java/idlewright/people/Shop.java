package idlewright.people;

import java.time.ZoneId;
import java.util.Currency;
import java.util.Locale;

/** The shop as it stands on its paper, with the money, zone, units and language its pages are shown in. */
public record Shop(
        String name,
        String address,
        String phone,
        String email,
        String taxNumber,
        Currency currency,
        ZoneId zone,
        boolean metric,
        Locale locale) {}
