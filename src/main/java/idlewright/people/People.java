package idlewright.people;

import idlewright.frame.NotFound;
import idlewright.frame.OnlyReads;
import idlewright.frame.Refused;
import idlewright.people.model.Account;
import idlewright.people.model.Accounts;
import idlewright.people.rules.Weak;
import java.time.Clock;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Who works here, and who is asking. */
@Component
public class People {

    private final Accounts accounts;
    private final Secrets secrets;
    private final Clock clock;
    private final ApplicationEventPublisher events;

    People(Accounts accounts, Secrets secrets, Clock clock, ApplicationEventPublisher events) {
        this.accounts = accounts;
        this.secrets = secrets;
        this.clock = clock;
        this.events = events;
    }

    /** The person who asks; there must be one. */
    public Person me() {
        return signedIn().orElseThrow(() -> new IllegalStateException("Nobody is signed in"));
    }

    public Optional<Person> signedIn() {
        return badge().map(Badge::person);
    }

    /** What the session or key of this request says of its person. */
    public Optional<Badge> badge() {
        var authentication = SecurityContextHolder.getContext().getAuthentication();
        return authentication != null && authentication.getPrincipal() instanceof Badge badge
                ? Optional.of(badge)
                : Optional.empty();
    }

    /** Somebody who works or worked here. */
    @OnlyReads
    public Person get(long id) {
        return accounts.findById(id).map(Account::person).orElseThrow(() -> NotFound.of("person " + id));
    }

    /** Everybody who works here now, by name. */
    @OnlyReads
    public List<Person> all() {
        return accounts.byName().stream()
                .filter(account -> !account.retired())
                .map(Account::person)
                .toList();
    }

    @OnlyReads
    public List<Person> technicians() {
        return all().stream().filter(person -> person.is(Role.TECHNICIAN)).toList();
    }

    /** A technician may do with a PIN alone, everybody else needs a password. */
    @Transactional
    public Person hire(
            @Nullable String name,
            @Nullable String signIn,
            @Nullable String password,
            @Nullable String pin,
            @Nullable Set<Role> roles) {
        var problems = new LinkedHashMap<String, String>();
        String rightName = name(name, problems);
        String rightSignIn = signIn(signIn, null, problems);
        Set<Role> rightRoles = roles == null ? Set.of() : Set.copyOf(roles);
        if (rightRoles.isEmpty()) {
            problems.put("roles", "Say what this person does here.");
        }
        if (password == null && (pin == null || !rightRoles.equals(Set.of(Role.TECHNICIAN)))) {
            problems.put("password", "Give a password; only a technician can do with a PIN alone.");
        } else if (password != null) {
            Weak.password(password, rightName, rightSignIn).ifPresent(why -> problems.put("password", why));
        }
        pin(pin, rightRoles, problems);
        Refused.ifAny(problems);

        var account = new Account(rightName, rightSignIn, rightRoles, clock.instant());
        if (password != null) {
            account.newPassword(secrets.hash(password));
        }
        if (pin != null) {
            account.newPin(secrets.hashPin(pin));
        }
        Person hired = accounts.saveAndFlush(account).person();
        events.publishEvent(new Happened(
                "person hired",
                hired.name() + " works here now as " + Role.words(hired.roles()) + ".",
                Map.of("person", hired.id(), "roles", Role.words(hired.roles()))));
        return hired;
    }

    /** Does the work as that person, with all of that person's roles: for the demo maker and tests. */
    public <T> T as(Person person, Supplier<T> work) {
        var before = SecurityContextHolder.getContext().getAuthentication();
        putOn(new Badge(person, 0, clock.instant(), null).authentication());
        try {
            return work.get();
        } finally {
            if (before == null) {
                SecurityContextHolder.clearContext();
            } else {
                putOn(before);
            }
        }
    }

    private static void putOn(org.springframework.security.core.Authentication authentication) {
        var context = SecurityContextHolder.createEmptyContext();
        context.setAuthentication(authentication);
        SecurityContextHolder.setContext(context);
    }

    static String name(@Nullable String name, Map<String, String> problems) {
        String trimmed = name == null ? "" : name.strip();
        if (trimmed.isEmpty() || trimmed.length() > 80) {
            problems.put("name", "Give a name of at most 80 letters.");
        }
        return trimmed;
    }

    String signIn(@Nullable String signIn, @Nullable Long whose, Map<String, String> problems) {
        String plain = plainSignIn(signIn);
        if (!plain.matches("[a-z0-9][a-z0-9._-]{1,39}")) {
            problems.put("signIn", "Use 2 to 40 small letters a-z, digits, dots or dashes.");
        } else if (accounts.findBySignIn(plain)
                .filter(other -> !other.id().equals(whose))
                .isPresent()) {
            problems.put("signIn", "Somebody has this sign-in name already. Choose another.");
        }
        return plain;
    }

    static String plainSignIn(@Nullable String signIn) {
        return signIn == null ? "" : signIn.strip().toLowerCase(Locale.ROOT);
    }

    static void pin(@Nullable String pin, Set<Role> roles, Map<String, String> problems) {
        if (pin == null) {
            return;
        }
        if (!roles.contains(Role.TECHNICIAN)) {
            problems.put("pin", "Only technicians use a PIN.");
        } else {
            Weak.pin(pin).ifPresent(why -> problems.put("pin", why));
        }
    }
}
