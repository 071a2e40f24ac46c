package idlewright.demo;

import static idlewright.people.Role.OWNER;
import static idlewright.people.Role.TECHNICIAN;
import static idlewright.people.Role.WRITER;

import idlewright.people.Role;
import idlewright.people.Sheet;
import idlewright.people.Shop;
import java.time.ZoneId;
import java.util.Currency;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/** Who works in the demo shop. All of it is invented, and every password here is published: it opens nothing else. */
public final class Cast {

    /** Somebody of the demo shop; technicians have a PIN too. */
    public record Member(
            String name,
            String signIn,
            String password,
            @Nullable String pin,
            Set<Role> roles) {

        public String rolesInWords() {
            return Role.words(roles);
        }
    }

    public static final Member ODILE =
            new Member("Odile Renner", "odile", "ledger under lamp", null, Set.of(OWNER, WRITER));
    public static final Member WREN = new Member("Wren Callow", "wren", "kettle on at seven", null, Set.of(WRITER));
    public static final Member JORY = new Member("Jory Pike", "jory", "two keys one hook", null, Set.of(WRITER));
    public static final Member TAMSIN =
            new Member("Tamsin Grey", "tamsin", "smoke finds the split", "4862", Set.of(TECHNICIAN));
    public static final Member ESKIL =
            new Member("Eskil Brand", "eskil", "probe the ground first", "7319", Set.of(TECHNICIAN));
    public static final Member MABRY =
            new Member("Mabry Holt", "mabry", "torque then torque again", "2750", Set.of(TECHNICIAN));
    public static final Member NOOR =
            new Member("Noor Bellamy", "noor", "read it before you clear it", "9184", Set.of(TECHNICIAN, WRITER));

    public static final List<Member> ALL = List.of(ODILE, WREN, JORY, TAMSIN, ESKIL, MABRY, NOOR);

    /** The key with which other programs may ask the demo shop. */
    public static final String API_KEY = "idlewright-demo-key";

    public static final Shop SHOP = new Shop(
            "Lantern Yard Motors",
            "4 Lantern Yard\nTallow Bridge TB4 2LY",
            "555 0100",
            "desk@lanternyard.example",
            "TB 55 0100 42",
            Currency.getInstance("EUR"),
            ZoneId.of("Europe/Dublin"),
            true,
            Locale.forLanguageTag("en-IE"));

    public static final Sheet SHEET = Sheet.A4;

    private Cast() {}
}
