package idlewright.people;

import org.springframework.security.core.AuthenticationException;

/** Somebody could not sign in; the message is for that person's eyes and says the same for unknown names. */
public class SignInRefused extends AuthenticationException {

    SignInRefused(String sentence) {
        super(sentence);
    }
}
