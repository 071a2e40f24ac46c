package idlewright.people;

import idlewright.people.model.Account;
import idlewright.people.model.Accounts;
import java.time.Clock;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.stereotype.Component;

/**
 * Checks passwords and PINs. Not one transaction on purpose: a hash takes a tenth of a second, and no database connection
 * waits for it.
 */
@Component
public class SignIns {

    private final Accounts accounts;
    private final Secrets secrets;
    private final Tries tries;
    private final Clock clock;
    private final ApplicationEventPublisher events;

    SignIns(Accounts accounts, Secrets secrets, Tries tries, Clock clock, ApplicationEventPublisher events) {
        this.accounts = accounts;
        this.secrets = secrets;
        this.tries = tries;
        this.clock = clock;
        this.events = events;
    }

    /** A desk session with all the person's roles. */
    public Badge byPassword(String signIn, String password, String address) {
        String name = People.plainSignIn(signIn);
        count(name, address);
        Optional<Account> account = accounts.findBySignIn(name).filter(known -> !known.retired());
        boolean right =
                secrets.matches(password, account.flatMap(Account::passwordHash).orElse(null));
        if (account.isEmpty() || !right) {
            throw refuse(name, address, "This name and password do not belong together. Check both and try again.");
        }
        tries.forgive(name, address);
        Badge badge = new Badge(account.get().person(), account.get().generation(), clock.instant(), null);
        tell("signed in", badge.person().name() + " signed in with a password.", name, address);
        return badge;
    }

    /** A bay session: a technician and nothing else, whatever other roles the person has. */
    public Badge byPin(Terminal terminal, long person, String pin) {
        String where = "terminal " + terminal.id();
        count("person " + person, where);
        Optional<Account> account =
                accounts.findById(person).filter(known -> !known.retired() && known.has(Role.TECHNICIAN));
        boolean right = secrets.matchesPin(pin, account.flatMap(Account::pinHash).orElse(null));
        if (account.isEmpty() || !right) {
            throw refuse("person " + person, where, "This is not the right PIN. Try again.");
        }
        tries.forgive("person " + person, where);
        Person whole = account.get().person();
        Person inTheBay = new Person(whole.id(), whole.name(), Set.of(Role.TECHNICIAN));
        tell("signed in", whole.name() + " signed in with a PIN.", whole.name(), terminal.name());
        return new Badge(inTheBay, account.get().generation(), clock.instant(), terminal.id());
    }

    private void count(String who, String where) {
        try {
            tries.count(who, where);
        } catch (SignInRefused tooMany) {
            tell("sign-in stopped", "Too many tries to sign in.", who, where);
            throw tooMany;
        }
    }

    private SignInRefused refuse(String who, String where, String sentence) {
        tell("sign-in refused", "Somebody tried to sign in and could not.", who, where);
        return new SignInRefused(sentence);
    }

    private void tell(String kind, String sentence, String who, String where) {
        events.publishEvent(new Happened(kind, sentence, Map.of("who", who, "where", where)));
    }
}
