from django.urls import path

from handouts import rise_sheet, safety_words, student_views, views
from handouts.home import page as home_page
from handouts.print_desk import views as desk_views

app_name = "handouts"
urlpatterns = [
    path("classes/<slug:code>/papers/", desk_views.desk, name="desk"),
    path("classes/<slug:code>/papers/packs/<int:pk>/", desk_views.pack, name="pack"),
    path("classes/<slug:code>/papers/packs/<int:pk>.pdf", desk_views.pack_pdf, name="pack_pdf"),
    path("classes/<slug:code>/papers/<slug:kind>.pdf", views.papers, name="papers"),
    path("classes/<slug:code>/papers/<slug:kind>/<slug:key>/", views.look, name="look"),
    path(
        "classes/<slug:code>/papers/<slug:kind>/<slug:key>/<int:page>.png",
        views.picture,
        name="picture",
    ),
    path("classes/<slug:code>/papers/<slug:kind>/<slug:key>.pdf", views.paper, name="paper"),
    path("safety-words/", safety_words.safety_words, name="safety_words"),
    path("recipes/<slug:slug>/rise.pdf", rise_sheet.rise_pdf, name="rise"),
    path("mine/<str:token>/before/", student_views.homework, name="homework"),
    path("mine/<str:token>/before.pdf", student_views.homework_pdf, name="homework_pdf"),
    path("mine/<str:token>/handout/", student_views.student, name="student"),
    path("mine/<str:token>/handout.pdf", student_views.student_pdf, name="student_pdf"),
    path("h/<slug:code>/", student_views.short_address, name="short_address"),
    path("at-home/<str:token>/", home_page.at_home, name="at_home"),
    path("at-home/<str:token>.pdf", home_page.at_home_pdf, name="at_home_pdf"),
]
