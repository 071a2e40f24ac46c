package idlewright.people;

import java.util.Set;

/** A line on {@code /set-up}; a room offers its pages by declaring such beans ({@code @Order} sorts them). */
public record SetUpPage(String title, String url, String what, Set<Role> roles) {}
